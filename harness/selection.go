package harness

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"smokeproof/harness/glyph"
)

// Selection is a set of glyphs: names, characters, code points and ranges
// ("U+0041-005A"), indices ("#17"), separated by commas. The zero Selection is
// all glyphs.
type Selection struct {
	names   []string
	ranges  [][2]rune
	indices []int
}

// ParseSelection reads a selection; "" and "all" select every glyph. A single
// character stands for itself, a comma is written "comma" or U+002C.
func ParseSelection(s string) (Selection, error) {
	var sel Selection
	if s == "" || s == "all" {
		return sel, nil
	}
	for _, t := range strings.Split(s, ",") {
		if err := sel.add(strings.TrimSpace(t)); err != nil {
			return sel, err
		}
	}
	return sel, nil
}

func (s *Selection) add(t string) error {
	switch {
	case t == "":
		return fmt.Errorf("glyph selection has an empty part; remove the extra comma")
	case strings.HasPrefix(t, "U+"):
		lo, hi, isRange := strings.Cut(t[2:], "-")
		if !isRange {
			hi = lo
		}
		a, err1 := strconv.ParseUint(lo, 16, 21)
		b, err2 := strconv.ParseUint(strings.TrimPrefix(hi, "U+"), 16, 21)
		if err1 != nil || err2 != nil || a > b {
			return fmt.Errorf("glyph selection %q is no code point or range; write U+0041 or U+0041-005A", t)
		}
		s.ranges = append(s.ranges, [2]rune{rune(a), rune(b)})
	case len(t) > 1 && t[0] == '#':
		i, err := strconv.ParseUint(t[1:], 10, 31)
		if err != nil {
			return fmt.Errorf("glyph selection %q is no index; write #17", t)
		}
		s.indices = append(s.indices, int(i))
	case utf8.RuneCountInString(t) == 1:
		r, _ := utf8.DecodeRuneInString(t)
		s.ranges = append(s.ranges, [2]rune{r, r})
		s.names = append(s.names, t)
	default:
		s.names = append(s.names, t)
	}
	return nil
}

// All says that the selection leaves nothing out.
func (s Selection) All() bool {
	return len(s.names) == 0 && len(s.ranges) == 0 && len(s.indices) == 0
}

// Has says that a glyph is selected.
func (s Selection) Has(r glyph.Ref) bool {
	if s.All() {
		return true
	}
	if slices.Contains(s.names, r.Name) || slices.Contains(s.names, string(r.Key)) || slices.Contains(s.indices, r.Index) {
		return true
	}
	return r.Code != glyph.NoCode && slices.ContainsFunc(s.ranges, func(x [2]rune) bool {
		return x[0] <= r.Code && r.Code <= x[1]
	})
}

// Filter narrows a run to some of its plan, the same for every verb. Empty
// fields narrow nothing.
type Filter struct {
	Faces, Devices []string
	Sizes          []glyph.Points
	Glyphs         Selection
}

// strike says that the filter keeps a strike.
func (f *Filter) strike(s glyph.Strike) bool {
	return (len(f.Faces) == 0 || slices.Contains(f.Faces, s.Face)) &&
		(len(f.Devices) == 0 || slices.Contains(f.Devices, s.Device)) &&
		(len(f.Sizes) == 0 || slices.Contains(f.Sizes, s.Size))
}

// check finds names that the plan does not know: a filter that matches nothing
// by mistake must not look like success.
func (f *Filter) check(p *Plan) error {
	for _, n := range f.Faces {
		if !slices.ContainsFunc(p.Faces, func(x PlanFace) bool { return x.Name == n }) {
			return fmt.Errorf("the plan has no face %q; see plan", n)
		}
	}
	for _, n := range f.Devices {
		if !slices.ContainsFunc(p.Devices, func(x Device) bool { return x.Name == n }) {
			return fmt.Errorf("the plan has no device %q; see plan", n)
		}
	}
	for _, s := range f.Sizes {
		if !slices.ContainsFunc(p.Devices, func(x Device) bool { return slices.Contains(x.Sizes, s) }) {
			return fmt.Errorf("the plan has no size %s pt; see plan", s)
		}
	}
	return nil
}
