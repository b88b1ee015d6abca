package harness

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"smokeproof/harness/glyph"
)

// Selection is a set of glyphs: names, characters, code points and ranges of either
// ("a-z", "U+0041-005A"), indices ("#17"), separated by commas. The zero Selection is
// all glyphs.
type Selection struct{ parts []choice }

// choice is what stands between two commas.
type choice struct {
	text   string
	name   string
	lo, hi rune // none where hi is below lo
	index  int  // -1: none
}

func named(name string) choice { return choice{text: name, name: name, hi: -1, index: -1} }

func (p *choice) has(r glyph.Ref) bool {
	return p.name != "" && (p.name == r.Name || p.name == string(r.Key)) || p.index >= 0 && p.index == r.Index ||
		r.Code != glyph.NoCode && p.lo <= r.Code && r.Code <= p.hi
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
	p := named(t)
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
		p.name, p.lo, p.hi = "", rune(a), rune(b)
	case len(t) > 1 && t[0] == '#':
		i, err := strconv.ParseUint(t[1:], 10, 31)
		if err != nil {
			return fmt.Errorf("glyph selection %q is no index; write #17", t)
		}
		p.name, p.index = "", int(i)
	case utf8.RuneCountInString(t) == 1:
		p.lo, _ = utf8.DecodeRuneInString(t)
		p.hi = p.lo
	case utf8.RuneCountInString(t) == 3 && []rune(t)[1] == '-':
		p.lo, p.hi = []rune(t)[0], []rune(t)[2]
		if p.lo > p.hi {
			return fmt.Errorf("glyph selection %q ends before it begins; write the lower character first", t)
		}
	}
	s.parts = append(s.parts, p)
	return nil
}

// All says that the selection leaves nothing out.
func (s Selection) All() bool { return len(s.parts) == 0 }

// Has says that a glyph is selected.
func (s Selection) Has(r glyph.Ref) bool {
	return s.All() || slices.ContainsFunc(s.parts, func(p choice) bool { return p.has(r) })
}

// Without gives the selection that is left of this one when each part is taken out
// that selects one of these glyphs.
func (s Selection) Without(refs []glyph.Ref) Selection {
	return Selection{slices.DeleteFunc(slices.Clone(s.parts), func(p choice) bool { return slices.ContainsFunc(refs, p.has) })}
}

// String lists the parts as they were written.
func (s Selection) String() string {
	var list []string
	for _, p := range s.parts {
		list = append(list, p.text)
	}
	return strings.Join(list, ", ")
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

// Unknown is what the filter asks for and the run does not have: neither a glyph
// that the plan selects nor a golden answers to it.
func (r *Run) Unknown(ctx context.Context) (Selection, error) {
	left := r.options.Filter.Glyphs
	for i := 0; i < len(r.strikes) && !left.All(); i++ {
		left = left.Without(r.strikes[i].Glyphs())
	}
	for i := 0; i < len(r.strikes) && !left.All() && r.Plan.Goldens != ""; i++ {
		have, err := r.Store.Load(ctx, r.strikes[i].Strike)
		if err != nil {
			return left, fmt.Errorf("%s: %w", r.strikes[i].Strike, err)
		}
		left = left.Without(refsOf(have.Cells))
	}
	return left, nil
}

// idle finds a face of which the plan selects no glyph, and that has no golden to miss
// either: a slip, which must not look like success.
func (r *Run) idle(ctx context.Context) error {
	if !r.options.Filter.Glyphs.All() {
		return nil // see Unknown
	}
	bare := map[*PlanFace]bool{}
	for i := range r.strikes {
		s := &r.strikes[i]
		if s.Count() > 0 {
			continue
		}
		had := 0
		if r.Plan.Goldens != "" {
			have, err := r.Store.Load(ctx, s.Strike)
			if err != nil {
				return fmt.Errorf("%s: %w", s.Strike, err)
			}
			had = len(have.Cells)
		}
		soFar, met := bare[s.Face]
		bare[s.Face] = had == 0 && (soFar || !met)
	}
	for i := range r.Plan.Faces {
		if f := &r.Plan.Faces[i]; bare[f] {
			return r.unusable(f, fmt.Errorf("it has none of the glyphs asked for (%s); correct glyphs", cmp.Or(f.Glyphs.String(), "all")))
		}
	}
	return nil
}

func refsOf(cells []glyph.Cell) []glyph.Ref {
	refs := make([]glyph.Ref, len(cells))
	for i := range cells {
		refs[i] = cells[i].Ref
	}
	return refs
}
