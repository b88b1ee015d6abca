package review

import (
	"cmp"
	"fmt"
	"slices"

	"smokeproof/harness"
)

// sighting is a finding and the drawing that has it: what a picture shows.
type sighting struct {
	change  *harness.Change
	finding *harness.Finding
}

// before orders sightings, what tells a reader most first.
func (s sighting) before(o sighting) int {
	return cmp.Or(gravity(s.finding.Severity)-gravity(o.finding.Severity), familiar(s.change)-familiar(o.change), cmp.Compare(o.finding.Score, s.finding.Score))
}

// familiar is 0 for a letter that readers meet most, and more for others.
func familiar(c *harness.Change) int {
	const westEuropean = 0x17F // Latin-1 and Latin Extended-A
	switch {
	case basic(c):
		return 0
	case c.Code < 0:
		return 3
	case c.Code <= westEuropean:
		return 1
	}
	return 2
}

// pictured lists what to show of it: the symptoms, and where none has a name the worst
// drawing of a plain letter, if there is one.
func (o *overhaul) pictured() []sighting {
	var list []sighting
	for _, s := range o.signs {
		list = append(list, s.shown)
	}
	if len(list) == 0 {
		list = pictureOf(cmp.Or(o.letter.change, o.worst.change))
	}
	return list
}

// sightings lists what to show: of each overhaul its first symptom, then the next ones, and
// causes, but for those that have no picture, or one like that of a worse cause.
func sightings(all []*overhaul, found []*cause) []sighting {
	const each = 3
	var ranks [each][]sighting
	for _, o := range all {
		for i, s := range o.pictured() {
			if i < each {
				ranks[i] = append(ranks[i], s)
			}
		}
	}
	list := slices.Concat(ranks[:]...)
	for _, g := range found {
		list = append(list, pictureOf(g.worst())...)
	}
	seen := map[[2]string]bool{}
	return slices.DeleteFunc(list, func(s sighting) bool {
		alike := [2]string{s.change.Glyph, s.finding.Finding}
		before := seen[alike]
		seen[alike] = true
		return before || len(art(s.change)) == 0
	})
}

// pictureOf shows a change by its worst finding; by none where it has none.
func pictureOf(c *harness.Change) []sighting {
	if len(c.Findings) == 0 {
		return nil
	}
	return []sighting{{c, &c.Findings[0]}}
}

// caption is what a picture is of.
func (s sighting) caption() string {
	return fmt.Sprintf("%s, %s: %s", spoken(s.change), strikeOf(s.change), plain(s.finding.Text))
}
