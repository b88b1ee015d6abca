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

// overhaul is a face of which nearly every drawing of some strikes changed: one
// thing befell it, such as the loss of its hints, and single causes tell little.
type overhaul struct {
	face    string
	of      int               // drawings in those strikes
	members []*harness.Change // worst first
	signs   []*symptom        // gravest and most first
}

const (
	nearlyAll   = 0.75 // of a strike's glyphs that changed, or of changes that are of one nature
	leastGlyphs = 12   // of a strike; of fewer a single cause may change them all
	manyCauses  = 12   // a list of more is not read to its end
)

// overhauls lists the faces that changed all over, worst first, and the changes of
// the others. Where nothing is approved, it is those whose faults have too many causes to list.
func overhauls(res *harness.Results) (list []*overhaul, rest []*harness.Change) {
	byFace, whole := map[string]*overhaul{}, map[[3]string]bool{}
	for _, s := range res.Strikes {
		if s.Glyphs < leastGlyphs || float64(s.Changed) < nearlyAll*float64(s.Glyphs) && !res.Looked {
			continue
		}
		whole[[3]string{s.Face, s.Device, s.Size}] = true
		if byFace[s.Face] == nil {
			byFace[s.Face] = &overhaul{face: s.Face}
		}
		byFace[s.Face].of += s.Glyphs
	}
	all := worstFirst(res)
	for _, c := range all {
		if o := byFace[c.Face]; o != nil && whole[[3]string{c.Face, c.Device, c.Size}] && (c.Status == "changed" || c.Status == "looked") {
			if len(o.members) == 0 {
				list = append(list, o)
			}
			o.members = append(o.members, c)
		}
	}
	if res.Looked {
		list = slices.DeleteFunc(list, func(o *overhaul) bool { return len(causes(o.members)) <= manyCauses })
	}
	told := map[*harness.Change]bool{}
	for _, o := range list {
		o.signs = symptoms(o.members)
		for _, c := range o.members {
			told[c] = true
		}
	}
	return list, slices.DeleteFunc(all, func(c *harness.Change) bool { return told[c] })
}

// reason is what most of its drawings have for one, and how many do; "" where none has.
func (o *overhaul) reason() (why string, n int) {
	count := map[string]int{}
	for _, c := range o.members {
		if why := reason(c); why != "" {
			count[why]++
		}
	}
	if len(count) == 0 {
		return "", 0
	}
	why = mostFirst(count)[0]
	return why, count[why]
}

// text says what befell the face, if only that something did.
func (o *overhaul) text(looked bool) string {
	why, n := o.reason()
	if looked { // faults tell nothing of the drawings that have none
		text := fmt.Sprintf("%s: %d of %d drawings are at fault by their own outlines", plain(o.face), len(o.members), o.of)
		if n > 0 {
			text += fmt.Sprintf(", %s of them %s", choose(n == len(o.members), "all", fmt.Sprint(n)), why)
		}
		return text
	}
	if float64(n) < nearlyAll*float64(len(o.members)) {
		why = o.nature() + " all over"
	}
	return fmt.Sprintf("%s: %s; %d of %d drawings are not as approved", plain(o.face), why, len(o.members), o.of)
}

// nature is the sign that nearly all of its drawings show, if it goes one way.
func (o *overhaul) nature() string {
	for _, s := range o.signs {
		if float64(len(s.members)) < nearlyAll*float64(len(o.members)) {
			continue
		}
		all := 0
		for _, way := range s.ways {
			all += len(way)
		}
		for name, way := range s.ways {
			if float64(len(way)) >= nearlyAll*float64(all) {
				return choose(s.text == rowSymptom, name, s.text+" "+name)
			}
		}
		if all == 0 {
			return s.text
		}
	}
	return "drawn otherwise"
}

// where tells its strikes.
func (o *overhaul) where() string { return where(&cause{members: o.members}) }

// overhaulText is an overhaul as the page shows it.
type overhaulText struct {
	Text  string   `json:"text"`
	Where string   `json:"where"`
	Signs []string `json:"signs"` // gravest and most first
}

func (o *overhaul) told(looked bool) overhaulText {
	t := overhaulText{o.text(looked), o.where(), []string{}}
	for _, s := range o.signs {
		t.Signs = append(t.Signs, fmt.Sprintf("%d %s", len(s.members), o.line(s)))
	}
	return t
}

// symptom is what many drawings of an overhaul have in common.
type symptom struct {
	text            string
	ways            map[string][]*harness.Change // "thicker" and "thinner", or the rows that moved
	critical, major int
	members         []*harness.Change // worst first
	shown           sighting          // the gravest, of the most familiar letter
}

// sighting is a finding and the drawing that has it: what a picture shows.
type sighting struct {
	change  *harness.Change
	finding *harness.Finding
}

// before orders sightings, what tells a reader most first.
func (s sighting) before(o sighting) int {
	rank := func(s sighting) int { return slices.Index(severities, s.finding.Severity) }
	return cmp.Or(rank(s)-rank(o), familiar(s.change)-familiar(o.change), cmp.Compare(o.finding.Score, s.finding.Score))
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

// symptoms lists what a type engineer would look for in changes, worst first, what is
// critical for the most part first: strokes parted, gone, thicker or thinner, rows that moved.
func symptoms(changes []*harness.Change) []*symptom {
	byText := map[string]*symptom{}
	var list []*symptom
	for _, c := range changes {
		for i := range c.Findings {
			f := &c.Findings[i]
			text, way := sign(f)
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
	list = slices.DeleteFunc(list, func(s *symptom) bool { return len(s.members) < fewest })
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
	c := &cause{members: append([]*harness.Change{s.shown.change}, s.members...)}
	text := s.text + s.whichWays() + ": " + which(c)
	if at := where(c); at != o.where() {
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
			way += " at " + sizes(distinct(s.ways[name], func(c *harness.Change) string { return c.Size })) + " pt"
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
func sign(f *harness.Finding) (text, way string) {
	more := f.MeasurePx > 0
	higher, thicker, wider := choose(more, " higher", " lower"), choose(more, "thicker", "thinner"), choose(more, "wider", "narrower")
	switch diff.Kind(f.Finding) {
	case diff.Missing:
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
	}
	return "", ""
}

// pictured lists what to show of it: the symptoms, and where none has a name the worst
// drawing of a plain letter, if there is one.
func (o *overhaul) pictured() []sighting {
	var list []sighting
	for _, s := range o.signs {
		list = append(list, s.shown)
	}
	if len(list) == 0 {
		i := max(0, slices.IndexFunc(o.members, basic))
		list = pictureOf(o.members[i])
	}
	return list
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}
