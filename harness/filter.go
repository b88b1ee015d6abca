package harness

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"smokeproof/harness/glyph"
)

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
