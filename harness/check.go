package harness

import (
	"context"
	"fmt"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/raster"
	"smokeproof/harness/render"
)

// Check draws every strike, holds it against its goldens and hands the results
// on in plan order. Strikes whose goldens cannot be read are left out, and the summary
// says which and why. It ends early only where nothing more can be done. In both cases
// the summary is Partial.
func (r *Run) Check(ctx context.Context, yield func(*StrikeResult) error) (*Summary, error) {
	if r.options.Set {
		return r.judged(ctx, true, alone(r.checkSet), yield)
	}
	return r.judged(ctx, false, r.recall, yield)
}

// judged works on every strike, counts what they come to and hands it on; sets
// says that a size is held beside the one before it too.
func (r *Run) judged(ctx context.Context, sets bool, work worker[*StrikeResult],
	yield func(*StrikeResult) error) (*Summary, error) {
	sum := NewSummary()
	sizes := series{r.Plan.DistanceMM, map[pair]setSides{}}
	counted := func(ctx context.Context, j *StrikeJob, take taker) ([]*StrikeResult, error) {
		all, err := readable(work)(ctx, j, take)
		if err == nil {
			for i, s := range all {
				r.found.Add(int64(s.tally().findings()))
				all[i] = s.apart()
				if s.unread == nil && err == nil {
					err = r.explain(ctx, j.Face, all[i])
				}
			}
		}
		return all, err
	}
	err := inOrder(ctx, r.options.Workers, r.strikes, r.cost, counted, func(j *StrikeJob, s *StrikeResult) error {
		if s.unread != nil {
			return sum.addUnread(s.unread)
		}
		if sets {
			sizes.add(j.Strike, s)
		}
		sum.Add(s, r.Plan.Gate)
		defer s.handedOn()
		return yield(s)
	})
	if err != nil || len(sum.Unread) > 0 {
		sum.Partial, sum.Exit = true, ExitIncomplete
	}
	return sum, err
}

func (r *Run) checkStrike(ctx context.Context, s *StrikeJob, taken func(*Change)) (*StrikeResult, error) {
	all, err := r.checkAlike(ctx, []*StrikeJob{s}, taken)
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// checkSome holds some glyphs of a strike against their goldens and reads no
// others. A golden of keys that nothing drew is missing.
func (r *Run) checkSome(ctx context.Context, s *StrikeJob, keys map[glyph.Key]bool) (*StrikeResult, error) {
	c, sheet, err := r.comparison(ctx, s)
	if err != nil {
		return nil, err
	}
	defer sheet.Close()
	approved, err := sheet.Some(keys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, unread{err})
	}
	c.wanted = func(ref glyph.Ref) bool { return keys[ref.Key] }
	drawn, err := r.draw(ctx, s)
	if err != nil {
		return nil, err
	}
	return c.hold(approved, drawn)
}

// mostLookedAlone is how many glyphs a face may have whose new ones are judged by their own
// outlines. Ideographs come by the ten thousand, cost four times as much, and half of them are at fault
// at small sizes: that is for Look, where somebody asks for it.
const mostLookedAlone = 1 << 13

// comparison readies the judgement of a strike, and its goldens unread.
func (r *Run) comparison(ctx context.Context, s *StrikeJob) (*comparison, *golden.Sheet, error) {
	sheet, err := r.Store.Sheet(ctx, s.Strike)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", s.Strike, unread{err})
	}
	c := r.judging(ctx, s)
	c.out.pile = r.newPile()
	if len(c.refs()) <= mostLookedAlone {
		var pen raster.Rasterizer
		c.alone = func(cell *glyph.Cell) []diff.Finding { return r.lookAlone(c, &pen, cell, c.design(cell.Ref)) }
	}
	return c, sheet, nil
}

// judging readies the judgement of a strike that is drawn.
func (r *Run) judging(ctx context.Context, s *StrikeJob) *comparison {
	c := newComparison(s.Strike, r.Plan.DistanceMM)
	c.out.drawn = s.Count()
	c.fits = s.Device.Renderer == "built-in"
	c.design = func(ref glyph.Ref) *glyph.Design { return designOf(r.faces[s.Face.Name], ref.Index) }
	c.refs = r.faces[s.Face.Name].Refs
	c.broken = func(d *render.Drawn, g *glyph.Cell) error { return r.keepReproducer(s, d, g) }
	builtIn := r.builtInOf(s.Device)
	c.lacks = func(ref glyph.Ref) string {
		f, err := builtIn.Face(s.Face.File, s.Face.Index)
		if err != nil {
			return ""
		}
		return face.Lacks(f, ref.Index)
	}
	c.outline = func(ref glyph.Ref) *glyph.Outline {
		o, err := builtIn.Outline(ctx, s.job(), ref)
		if err != nil {
			return nil
		}
		return &o
	}
	return c
}

// checkSet judges the glyphs of a strike beside each other too, for which all
// of them must be at hand: the cache stands aside.
func (r *Run) checkSet(ctx context.Context, s *StrikeJob) (*StrikeResult, error) {
	c, sheet, err := r.comparison(ctx, s)
	if err != nil {
		return nil, err
	}
	defer sheet.Close()
	c.wanted = r.options.Filter.Glyphs.Has
	approved, err := sheet.Strike()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, unread{err})
	}
	if c.since, err = r.readSince(ctx, s.Strike); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	drawn, err := r.draw(ctx, s)
	if err != nil {
		return nil, err
	}
	out, err := c.hold(approved, drawn)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	c.set(approved, drawn)
	return out, nil
}
