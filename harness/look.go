package harness

import (
	"context"
	"slices"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
	"smokeproof/harness/raster"
)

// Look draws every strike and judges it by its own outlines, with nothing
// approved beside it: each glyph alone, the glyphs of a strike beside each
// other, and each size beside the one before. Results come in plan order;
// Changes holds the glyphs that something was found of, Status "looked".
func (r *Run) Look(ctx context.Context, yield func(*StrikeResult) error) (*Summary, error) {
	return r.judged(ctx, true, alone(r.lookAt), yield)
}

func (r *Run) lookAt(ctx context.Context, s *StrikeJob) (*StrikeResult, error) {
	drawn, err := r.draw(ctx, s)
	if err != nil {
		return nil, err
	}
	c := r.judging(ctx, s)
	ppem := s.Strike.PPEM()
	var pen raster.Rasterizer
	var members []diff.Member
	found := map[glyph.Key][]diff.Finding{}
	for i := range drawn {
		d := &drawn[i]
		c.out.Glyphs++
		if d.Err != nil {
			c.out.Undrawn++
			c.add(d.Cell.Ref, StatusUndrawn, undrawnReport(d), nil, nil)
			continue
		}
		c.guard(d, nil, func() {
			design := c.design(d.Cell.Ref)
			found[d.Cell.Key] = r.lookAlone(c, &pen, &d.Cell, design)
			members = append(members, diff.Member{Cell: &d.Cell, Design: design})
		})
	}
	var set []diff.SetFinding
	c.out.sides.candidate, set = c.judge.Set(s.Strike.Size, ppem, members)
	c.out.sides.golden = new(diff.Census)
	for _, f := range set {
		if alone := found[f.Glyph]; !explained(&f.Finding, alone) {
			found[f.Glyph] = append(alone, f.Finding)
		}
	}
	for i := range drawn {
		d := &drawn[i]
		if list := found[d.Cell.Key]; d.Err == nil && len(list) > 0 {
			ch := c.add(d.Cell.Ref, StatusLooked, diff.NewReport(list), nil, &d.Cell)
			c.remark(ch, d)
			c.fitted(ch, d.Cell.Ref, c.design(d.Cell.Ref))
		}
	}
	sortWorstFirst(c.out.Changes)
	return &c.out, nil
}

// lookAlone judges one drawing by its own outline.
func (r *Run) lookAlone(c *comparison, pen *raster.Rasterizer, cell *glyph.Cell, design *glyph.Design) []diff.Finding {
	return c.judge.Alone(cell, design, r.forms.of(c.judge, pen, c.id.Face, cell.Ref, design), c.id.PPEM())
}

// explained says that a stroke is thick because ink closed what lies beside it:
// that is one fault, and has its name already.
func explained(f *diff.Finding, by []diff.Finding) bool {
	return f.MeasurePx > 0 && slices.ContainsFunc(by, func(b diff.Finding) bool {
		return (b.Kind == diff.CounterClosed || b.Kind == diff.Bridge) && b.Place.Meets(f.Place)
	})
}
