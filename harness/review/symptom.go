package review

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"smokeproof/diff"
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// symptom is what many drawings of an overhaul have in common.
type symptom struct {
	text            string
	ways            map[string][]*harness.Change // "thicker" and "thinner", or the rows that moved
	critical, major int
	members         []*harness.Change // worst first
	shown           sighting          // the gravest, of the most familiar letter
}

// symptoms lists what a type engineer would look for in changes, worst first, what is
// critical for the most part first: strokes parted, gone, thicker or thinner, rows that moved.
func symptoms(changes []*harness.Change) []*symptom {
	byText := map[string]*symptom{}
	var list []*symptom
	for _, c := range changes {
		for i := range c.Findings {
			f := &c.Findings[i]
			text, way := sign(c, f)
			if text == "" || f.Severity != "critical" && f.Severity != "major" {
				continue
			}
			s := byText[text]
			if s == nil {
				s = &symptom{text: text, ways: map[string][]*harness.Change{}, shown: sighting{c, f}}
				byText[text], list = s, append(list, s)
			}
			s.add(c, f, way)
		}
	}
	list = slices.DeleteFunc(list, func(s *symptom) bool { return len(s.members) < fewest && s.critical == 0 })
	slices.SortStableFunc(list, func(a, b *symptom) int {
		return cmp.Or(cmp.Compare(a.major, a.critical)-cmp.Compare(b.major, b.critical), len(b.members)-len(a.members))
	})
	return list
}

func (s *symptom) add(c *harness.Change, f *harness.Finding, way string) {
	if way != "" {
		s.ways[way] = append(s.ways[way], c)
	}
	if f.Severity == "critical" {
		s.critical++
	} else {
		s.major++
	}
	if seen := (sighting{c, f}); seen.before(s.shown) < 0 {
		s.shown = seen
	}
	if n := len(s.members); n == 0 || s.members[n-1] != c {
		s.members = append(s.members, c)
	}
}

// rowSymptom is that of alignment rows, which are off at some sizes and not at others.
const rowSymptom = "alignment rows"

// line is "bars (63 thinner, 12 thicker): H, A, B and 80 more; 9, 10 pt at 300 dpi",
// without the strikes where they are all of the overhaul's.
func (o *overhaul) line(s *symptom) string {
	byLetter := slices.SortedStableFunc(slices.Values(s.members), plainest)
	text := s.text + s.whichWays() + ": " + glyph.FirstOf(distinct(append([]*harness.Change{s.shown.change}, byLetter...), spoken))
	if at := where(&cause{members: s.members}); at != o.where() {
		text += "; " + strings.TrimPrefix(at, plain(o.face)+", ")
	}
	return text
}

// whichWays tells the ways of a symptom that most have, with their count; of rows also
// the sizes.
func (s *symptom) whichWays() string {
	const most = 4
	names := slices.SortedFunc(maps.Keys(s.ways), func(a, b string) int {
		return cmp.Or(len(s.ways[b])-len(s.ways[a]), cmp.Compare(a, b))
	})
	var told []string
	for _, name := range names[:min(most, len(names))] {
		way := fmt.Sprintf("%d %s", len(s.ways[name]), name)
		if len(s.ways[name]) == 1 {
			way = strings.Replace(way, "rounds", "round", 1)
		}
		if s.text == rowSymptom {
			way += " at " + sizes(distinct(s.ways[name], func(c *harness.Change) string { return c.Size }))
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
