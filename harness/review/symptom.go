package review

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"smokeproof/diff"
	"smokeproof/harness"
)

// symptom is what many drawings of an overhaul have in common.
type symptom struct {
	crowd
	text            string
	ways            map[string]*way // "thicker" and "thinner", or the rows that moved
	critical, major int
	first           found    // as the run is ordered
	shown           sighting // the gravest, of the most familiar letter
	showing         found    // where that is
}

// way counts findings that go one way.
type way struct {
	n     int
	sizes []string
}

// found is a finding by its place among those of its change.
type found struct {
	seen
	finding int
}

func (f found) compare(o found) int { return cmp.Or(f.seen.compare(o.seen), f.finding-o.finding) }

// show enters a finding under what it shows, if it is grave.
func (o *overhaul) show(at seen, finding int) {
	f := &at.change.Findings[finding]
	text, name := sign(at.change, f)
	if text == "" || f.Severity != "critical" && f.Severity != "major" {
		return
	}
	here := found{at, finding}
	s := o.bySign[text]
	if s == nil {
		s = &symptom{crowd: crowd{order: plainest}, text: text, ways: map[string]*way{}, first: here, shown: sighting{at.change, f}, showing: here}
		o.bySign[text] = s
	}
	s.add(here, f, name)
}

func (s *symptom) add(here found, f *harness.Finding, name string) {
	s.crowd.add(here.seen)
	if name != "" {
		if s.ways[name] == nil {
			s.ways[name] = &way{}
		}
		s.ways[name].n++
		s.ways[name].sizes = with(s.ways[name].sizes, here.change.Size)
	}
	if f.Severity == "critical" {
		s.critical++
	} else {
		s.major++
	}
	if here.compare(s.first) < 0 {
		s.first = here
	}
	is := sighting{here.change, f}
	if cmp.Or(is.before(s.shown), here.compare(s.showing)) < 0 {
		s.shown, s.showing = is, here
	}
}

// symptoms lists what a type engineer would look for in changes, worst first, what is
// critical for the most part first: strokes parted, gone, thicker or thinner, rows that moved.
func (o *overhaul) symptoms() []*symptom {
	list := slices.Collect(maps.Values(o.bySign))
	list = slices.DeleteFunc(list, func(s *symptom) bool { return s.n < fewest && s.critical == 0 })
	slices.SortFunc(list, func(a, b *symptom) int {
		return cmp.Or(cmp.Compare(a.major, a.critical)-cmp.Compare(b.major, b.critical), b.n-a.n, a.first.compare(b.first))
	})
	return list
}

// rowSymptom is that of alignment rows, which are off at some sizes and not at others.
const rowSymptom = "alignment rows"

// line is "bars (63 thinner, 12 thicker): H, A, B and 80 more; 9, 10 pt at 300 dpi",
// without the strikes where they are all of the overhaul's.
func (o *overhaul) line(s *symptom) string {
	text := s.text + s.whichWays() + ": " + s.which(s.shown.change)
	if at := s.where(); at != o.where() {
		text += "; " + strings.TrimPrefix(at, plain(o.face)+", ")
	}
	return text
}

// whichWays tells the ways of a symptom that most have, with their count; of rows also
// the sizes.
func (s *symptom) whichWays() string {
	const most = 4
	names := slices.SortedFunc(maps.Keys(s.ways), func(a, b string) int {
		return cmp.Or(s.ways[b].n-s.ways[a].n, cmp.Compare(a, b))
	})
	var told []string
	for _, name := range names[:min(most, len(names))] {
		way := fmt.Sprintf("%d %s", s.ways[name].n, name)
		if s.ways[name].n == 1 {
			way = strings.Replace(way, "rounds", "round", 1)
		}
		if s.text == rowSymptom {
			way += " at " + sizes(s.ways[name].sizes)
		}
		told = append(told, way)
	}
	switch {
	case len(names) == 0:
		return ""
	case len(names) > most:
		told = append(told, "and others")
	}
	return " (" + strings.Join(told, ", ") + ")"
}

// sign is a finding in words that many glyphs share, and the way it goes, if it goes
// one; "" where its words are the glyph's own.
func sign(c *harness.Change, f *harness.Finding) (text, way string) {
	more := f.MeasurePx > 0
	higher, thicker, wider := choose(more, " higher", " lower"), choose(more, "thicker", "thinner"), choose(more, "wider", "narrower")
	switch diff.Kind(f.Finding) {
	case diff.Missing:
		if f.Place.What == "whole glyph" && c.Candidate != nil && c.Candidate.Width > 0 {
			return "glyphs of another shape", ""
		}
		if f.Place.What == "whole glyph" {
			return "glyphs without their ink", ""
		}
		return "parts without ink", ""
	case diff.Height, diff.Overshoot:
		if strings.HasSuffix(f.Place.What, " row") { // where the glyph ends at no row of the face, as accents do
			return "", ""
		}
		return rowSymptom, choose(f.Finding == string(diff.Overshoot), "rounds at ", "") + plain(f.Place.What) + higher
	case diff.StemWeight:
		return "stems", thicker
	case diff.BarWeight:
		return "bars", thicker
	case diff.Spacing:
		return "advances", wider
	case diff.StemUneven:
		return "stems of one width unequal", ""
	case diff.StemLost:
		return "stems lost", ""
	case diff.BarLost:
		return "bars lost", ""
	case diff.Break:
		return "strokes parted", ""
	case diff.Bridge:
		return choose(f.Place.What == "", "strokes run together", "parts run together"), ""
	case diff.CounterClosed:
		return "counters closed", ""
	case diff.SerifUneven:
		return "serifs uneven", ""
	case diff.Moved:
		return choose(f.Place.What == "whole glyph", "glyphs moved", "strokes off their place"), ""
	}
	return "", ""
}
