package review

import (
	"fmt"
	"slices"

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

// overhauls lists the faces that changed all over, or of which many glyphs did for one reason, worst
// first, and the changes of the others. Where nothing is approved, it is those whose faults have too many
// causes to list.
func overhauls(res *harness.Results) (list []*overhaul, rest []*harness.Change) {
	all := worstFirst(res)
	whole, many := wholeStrikes(res), manyRemarked(all)
	byFace, counted := map[string]*overhaul{}, map[harness.StrikeKey]bool{}
	for _, c := range all {
		drawn := c.Status == harness.StatusChanged || c.Status == harness.StatusLooked
		if !drawn || !whole[c.StrikeKey()] && !many[remarkOf(c)] {
			continue
		}
		o := byFace[c.Face]
		if o == nil {
			o = &overhaul{face: c.Face}
			byFace[c.Face], list = o, append(list, o)
		}
		o.members = append(o.members, c)
		counted[c.StrikeKey()] = true
	}
	for _, s := range res.Strikes {
		if counted[s.StrikeKey()] {
			byFace[s.Face].of += s.Glyphs
		}
	}
	if res.Looked {
		list = slices.DeleteFunc(list, func(o *overhaul) bool {
			return !many[remarkOf(o.members[0])] && len(causes(o.members)) <= manyCauses
		})
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

// wholeStrikes are those of which nearly every glyph changed; where nothing is approved, all but the smallest.
func wholeStrikes(res *harness.Results) map[harness.StrikeKey]bool {
	whole := map[harness.StrikeKey]bool{}
	for _, s := range res.Strikes {
		if s.Glyphs >= leastGlyphs && (res.Looked || float64(s.Changed) >= nearlyAll*float64(s.Glyphs)) {
			whole[s.StrikeKey()] = true
		}
	}
	return whole
}

// remark is what is remarked of drawings of a face.
type remark struct{ face, words string }

func remarkOf(c *harness.Change) remark { return remark{c.Face, c.Note} }

// manyRemarked are the remarks that many glyphs of a face have in the same words.
func manyRemarked(changes []*harness.Change) map[remark]bool {
	glyphs := map[remark]map[string]bool{}
	for _, c := range changes {
		if c.Note == "" {
			continue
		}
		k := remarkOf(c)
		if glyphs[k] == nil {
			glyphs[k] = map[string]bool{}
		}
		glyphs[k][c.Glyph] = true
	}
	many := map[remark]bool{}
	for k, g := range glyphs {
		many[k] = len(g) >= leastGlyphs
	}
	return many
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
func (o *overhaul) text(h *harness.Header) string {
	why, n := o.reason()
	if h.Looked { // faults tell nothing of the drawings that have none
		text := fmt.Sprintf("%s: %d of %d drawings are at fault by their own outlines", plain(o.face), len(o.members), o.of)
		if n > 0 {
			text += fmt.Sprintf(", %s of them: %s", choose(n == len(o.members), "all", fmt.Sprint(n)), why)
		}
		return text
	}
	if float64(n) < nearlyAll*float64(len(o.members)) {
		why = o.nature() + " all over"
	}
	return fmt.Sprintf("%s: %s; %d of %d drawings are not as %s", plain(o.face), why, len(o.members), o.of, standard(h))
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

func (o *overhaul) told(h *harness.Header) overhaulText {
	t := overhaulText{o.text(h), o.where(), []string{}}
	for _, s := range o.signs {
		t.Signs = append(t.Signs, fmt.Sprintf("%d %s", len(s.members), o.line(s)))
	}
	return t
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}
