package harness

import (
	"context"
	"fmt"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
	"smokeproof/harness/render"
)

// Draw draws the selected glyphs of every strike, in plan order, without goldens.
func (r *Run) Draw(ctx context.Context, yield func(*StrikeJob, []render.Drawn) error) error {
	return inOrder(ctx, r.options.Workers, r.strikes, r.cost, alone(r.draw), yield)
}

// Explain tells, for the selected glyphs of every strike in plan order, what
// decided their positions in the built-in renderer. yield gets a glyph's error
// in place of its reasons.
func (r *Run) Explain(ctx context.Context, yield func(*StrikeJob, glyph.Ref, *gridfit.Reasons, error) error) error {
	for i := range r.strikes {
		s := &r.strikes[i]
		b := r.builtInOf(s.Device)
		for _, ref := range s.Glyphs() {
			why, err := b.Explain(ctx, s.job(), ref)
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if err := yield(s, ref, why, err); err != nil {
				return err
			}
		}
	}
	return nil
}

// builtInOf is the built-in renderer as a device sets it; for a device that
// another program draws for, as it is by default.
func (r *Run) builtInOf(d *Device) *render.BuiltIn {
	if b, ok := r.devices[d.Name].Renderer.(*render.BuiltIn); ok {
		return b
	}
	return r.builtIn
}

func (r *Run) draw(ctx context.Context, s *StrikeJob) ([]render.Drawn, error) {
	out := make([]render.Drawn, 0, s.Count())
	err := r.each(ctx, s, func(d *render.Drawn) error {
		out = append(out, d.Kept())
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	return out, nil
}

// each draws a strike and hands on each glyph as it is drawn.
func (r *Run) each(ctx context.Context, s *StrikeJob, yield func(*render.Drawn) error) error {
	if err := r.unchanged(s); err != nil {
		return err
	}
	yield, done := r.counted(s, yield)
	defer done()
	return r.devices[s.Device.Name].Draw(ctx, s.job(), yield)
}

// counted counts the glyphs that are handed on, all of them once done is called, and what is remarked of
// them, and keeps those that could not be drawn.
func (r *Run) counted(s *StrikeJob, yield func(*render.Drawn) error) (counting func(*render.Drawn) error, done func()) {
	count := int64(0) // by the glyph, all cores would write to one place
	return func(d *render.Drawn) error {
		if count++; count == 64 {
			r.drawn.Add(count)
			count = 0
		}
		r.remarks.add(s.Face.Name, d)
		if d.Err != nil {
			if err := r.keepReproducer(s, d, nil); err != nil {
				return err
			}
		}
		return yield(d)
	}, func() { r.drawn.Add(count) }
}
