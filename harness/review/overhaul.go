package review

import (
	"fmt"
	"strings"

	"smokeproof/harness"
)

// overhaul is a face of which nearly every drawing of some strikes changed: one
// thing befell it, such as the loss of its hints, and single causes tell little.
type overhaul struct {
	crowd
	face          string
	of            int  // drawings in its strikes
	worst, letter seen // the worst of all, and of plain letters
	fails         bool // one of them does, at the gate
	reasons       map[string]int
	strikes       map[harness.StrikeKey]bool
	bySign        map[string]*symptom
	signs         []*symptom        // gravest and most first
	kept          []*harness.Change // of a face that is looked at
}

const (
	nearlyAll   = 0.75 // of a strike's glyphs that changed, or of changes that are of one nature
	leastGlyphs = 12   // of a strike; of fewer a single cause may change them all
	manyCauses  = 12   // a list of more is not read to its end
)

func newOverhaul(face string) *overhaul {
	return &overhaul{crowd: crowd{order: plainest}, face: face, reasons: map[string]int{}, strikes: map[harness.StrikeKey]bool{}, bySign: map[string]*symptom{}}
}

func (o *overhaul) add(s seen, fails bool) {
	o.crowd.add(s)
	o.strikes[s.change.StrikeKey()] = true
	o.fails = o.fails || fails
	o.worst = worse(o.worst, s)
	if basic(s.change) {
		o.letter = worse(o.letter, s)
	}
	if why := reason(s.change); why != "" {
		o.reasons[why]++
	}
	for i := range s.change.Findings {
		o.show(s, i)
	}
}

// worse is the one that stands first in a run's order; a is nothing at first.
func worse(a, b seen) seen {
	if a.change == nil || b.compare(a) < 0 {
		return b
	}
	return a
}

// finish lists what was counted.
func (o *overhaul) finish(res *harness.Results) {
	for i := range res.Strikes {
		if s := &res.Strikes[i]; o.strikes[s.StrikeKey()] {
			o.of += s.Glyphs
		}
	}
	o.signs = o.symptoms()
}

// drawnOtherwise says that a change is of a drawing, and not of one that is new or gone.
func drawnOtherwise(c *harness.Change) bool {
	return c.Status == harness.StatusChanged || c.Status == harness.StatusLooked
}

// wholeStrikes are those of which nearly every glyph changed, and those of faces of which so many did that nobody reads
// their causes; where nothing is approved, all but the smallest.
func wholeStrikes(res *harness.Results, throngs map[string]bool) map[harness.StrikeKey]bool {
	whole := map[harness.StrikeKey]bool{}
	for _, s := range res.Strikes {
		if s.Glyphs >= leastGlyphs && (res.Looked || throngs[s.Face] || float64(s.Changed) >= nearlyAll*float64(s.Glyphs)) {
			whole[s.StrikeKey()] = true
		}
	}
	return whole
}

// remark is what is remarked of drawings of a face.
type remark struct{ face, words string }

func remarkOf(c *harness.Change) remark { return remark{c.Face, c.Note} }

// reason is what most of its drawings have for one, and how many do; "" where none has. Two or three
// reasons that nearly all have among them are one.
func (o *overhaul) reason() (why string, n int) {
	const most = 3
	var told []string
	all := mostFirst(o.reasons)
	for i, one := range all[:min(most, len(all))] {
		if n += o.reasons[one]; float64(n) < nearlyAll*float64(o.n) {
			told = append(told, fmt.Sprintf("%s (%d)", one, o.reasons[one]))
			continue
		}
		if i == 0 {
			return one, n
		}
		return strings.Join(append(told, fmt.Sprintf("%s (%d)", one, o.reasons[one])), "; "), n
	}
	if len(all) == 0 {
		return "", 0
	}
	return all[0], o.reasons[all[0]]
}

// text says what befell the face, if only that something did.
func (o *overhaul) text(h *harness.Header) string {
	why, n := o.reason()
	if h.Looked { // faults tell nothing of the drawings that have none
		text := fmt.Sprintf("%s: %d of %d drawings are at fault by their own outlines", plain(o.face), o.n, o.of)
		if 2*n >= o.n { // of a few it explains nothing
			text += fmt.Sprintf(", %s of them: %s", choose(n == o.n, "all", fmt.Sprint(n)), why)
		}
		return text
	}
	if float64(n) < nearlyAll*float64(o.n) {
		why = o.nature() + " all over"
	}
	return fmt.Sprintf("%s: %s; %d of %d drawings are not as %s", plain(o.face), why, o.n, o.of, standard(h))
}

// nature is the sign that nearly all of its drawings show, if it goes one way.
func (o *overhaul) nature() string {
	for _, s := range o.signs {
		if float64(s.n) < nearlyAll*float64(o.n) {
			continue
		}
		all := 0
		for _, way := range s.ways {
			all += way.n
		}
		for name, way := range s.ways {
			if float64(way.n) >= nearlyAll*float64(all) {
				return choose(s.text == rowSymptom, name, s.text+" "+name)
			}
		}
		if all == 0 {
			return s.text
		}
	}
	return "drawn otherwise"
}

// overhaulText is an overhaul as the page shows it.
type overhaulText struct {
	Text  string   `json:"text"`
	Where string   `json:"where"`
	Signs []string `json:"signs"` // gravest and most first
}

func (o *overhaul) told(h *harness.Header) overhaulText {
	t := overhaulText{o.text(h), o.where(), []string{}}
	for _, s := range o.signs {
		t.Signs = append(t.Signs, fmt.Sprintf("%d %s", s.n, o.line(s)))
	}
	return t
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}
