package harness

import (
	"context"
	"fmt"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// drawingKey is what strikes have in common that are drawn alike.
type drawingKey struct {
	face *PlanFace
	like render.Likeness
}

// drawingKey gives the key of a strike of a face. It is known of the built-in renderer alone.
func (r *Run) drawingKey(f face.Face, s *StrikeJob) (d drawingKey, known bool) {
	b, ok := r.devices[s.Device.Name].Renderer.(*render.BuiltIn)
	if !ok {
		return drawingKey{}, false
	}
	return drawingKey{s.Face, b.Likeness(f, s.Strike)}, true
}

// alike tells the strikes that are drawn as s is.
func (r *Run) alike(s *StrikeJob) func(*StrikeJob) bool {
	none := func(*StrikeJob) bool { return false }
	b, ok := r.devices[s.Device.Name].Renderer.(*render.BuiltIn)
	if !ok {
		return none
	}
	f, err := b.Face(s.Face.File, s.Face.Index)
	if err != nil { // drawing it says so
		return none
	}
	is, _ := r.drawingKey(f, s)
	return func(o *StrikeJob) bool {
		d, known := r.drawingKey(f, o)
		return known && d == is
	}
}

// checkAlike draws once what is drawn alike for all strikes, and holds it against the
// goldens of each. The changes go to taken, where it is not nil, without what only a person looks at.
func (r *Run) checkAlike(ctx context.Context, strikes []*StrikeJob, taken func(*Change)) ([]*StrikeResult, error) {
	var checks []*strikeCheck
	defer func() {
		for _, c := range checks {
			c.sheet.Close()
		}
	}()
	for i, s := range strikes {
		c, sheet, err := r.comparison(ctx, s)
		if err != nil {
			return nil, err
		}
		c.wanted, c.taken = r.options.Filter.Glyphs.Has, taken
		if i > 0 {
			c.out.drawn = 0
		}
		check := &strikeCheck{comparison: c, sheet: sheet, readSince: func() (*since, error) {
			return r.readSince(ctx, s.Strike)
		}}
		checks = append(checks, check)
		if !sheet.Sound() {
			if err := check.read(); err != nil {
				return nil, fmt.Errorf("%s: %w", s.Strike, err)
			}
		}
	}
	at := strikes[0].Strike
	err := r.eachUnknown(ctx, strikes[0], checks, func(d *render.Drawn) error {
		for _, c := range checks {
			if err := c.next(d); err != nil {
				at = c.id
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", at, err)
	}
	out := make([]*StrikeResult, len(checks))
	for i, c := range checks {
		if out[i], err = c.result(); err != nil {
			return nil, fmt.Errorf("%s: %w", c.id, err)
		}
	}
	return out, nil
}

// strikeCheck holds a strike's candidates, as they are drawn, against goldens that are
// not read where they are sound and the candidates equal.
type strikeCheck struct {
	*comparison
	sheet     *golden.Sheet
	readSince func() (*since, error)
	whole     bool        // all goldens are read
	twins     *knownTwins // nil where there are none
}

// next takes the next candidate.
func (c *strikeCheck) next(d *render.Drawn) error {
	if d.Err == nil && c.same(&d.Cell) {
		return nil
	}
	if !c.whole {
		if c.approved == nil {
			if err := c.take(c.sheet.Approvals()); err != nil {
				return err
			}
		}
		if g := c.sheet.Next(d.Cell.Ref); g != nil {
			c.goldens[g.Key] = g
		} else if err := c.read(); err != nil {
			return err
		}
	}
	kept := d.Kept()
	return c.one(&kept)
}

// same takes a candidate that is equal to its golden.
func (c *strikeCheck) same(cell *glyph.Cell) bool {
	if c.whole {
		return c.equal(cell)
	}
	if !c.sheet.Same(cell) {
		return false
	}
	if c.twins != nil {
		c.twins.learn(&cell.Ref, c.sheet)
	}
	c.countEqual()
	return true
}

// read reads all goldens.
func (c *strikeCheck) read() error {
	c.whole = true
	approved, err := c.sheet.Strike()
	if err != nil {
		return unread{err}
	}
	return c.take(approved)
}

// take takes the goldens, or their approvals alone, that candidates are held against which are not equal.
func (c *strikeCheck) take(approved *golden.Strike) (err error) {
	if c.approved == nil {
		if c.since, err = c.readSince(); err != nil {
			return err
		}
	}
	c.begin(approved, c.sheet.Met)
	return nil
}

// result is what the strike came to, when every candidate is taken.
func (c *strikeCheck) result() (*StrikeResult, error) {
	if !c.whole && !c.sheet.Done() {
		if err := c.read(); err != nil {
			return nil, err
		}
	}
	if c.approved == nil {
		return &c.out, c.out.ordered()
	}
	return c.end()
}
