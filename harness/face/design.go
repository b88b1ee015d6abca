package face

import (
	"fmt"
	"math"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Limits on composites: deeper or larger ones are damage or malice.
const (
	maxDepth  = 16
	maxPoints = 1 << 16
	maxParts  = 1 << 10
)

// Design returns the unhinted outline with composites put together, in 26.6
// font units, and the face's zones. TrueType declares no stems.
func (f *TrueType) Design(index int) (*glyph.Design, error) {
	d, err := f.design(index)
	if err != nil {
		return nil, err
	}
	f.zonesFound.Do(func() { f.zones = f.findZones() })
	d.Zones = f.zones
	return d, nil
}

func (f *TrueType) design(index int) (*glyph.Design, error) {
	parts := 0
	o, err := f.outline(index, 0, &parts)
	if err != nil {
		return nil, err
	}
	adv, _ := f.HMetrics(index)
	return &glyph.Design{UPEM: f.upem, Advance: adv, Outline: *o}, nil
}

func (f *TrueType) outline(index, depth int, parts *int) (*glyph.Outline, error) {
	g, err := f.Glyph(index)
	if err != nil {
		return nil, err
	}
	if *parts++; depth > maxDepth || *parts > maxParts {
		return nil, fmt.Errorf("%w: glyph %d: components nest deeper than %d or are more than %d; they may be circular", ErrInvalid, index, maxDepth, maxParts)
	}
	o := &glyph.Outline{Ends: slices.Clip(g.Ends)}
	for i, on := range g.On {
		kind := glyph.Quad
		if on {
			kind = glyph.OnCurve
		}
		o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(g.X[i]) << 6, Y: fixed.Int26_6(g.Y[i]) << 6, Kind: kind})
	}
	for i := range g.Components {
		c := &g.Components[i]
		part, err := f.outline(c.Index, depth+1, parts)
		if err != nil {
			return nil, fmt.Errorf("component of glyph %d: %w", index, err)
		}
		if len(o.Points)+len(part.Points) > maxPoints || len(o.Ends)+len(part.Ends) > maxPoints {
			return nil, fmt.Errorf("%w: glyph %d: more than %d points or contours", ErrInvalid, index, maxPoints)
		}
		if err := c.place(o, part); err != nil {
			return nil, fmt.Errorf("%w: glyph %d: %w", ErrInvalid, index, err)
		}
	}
	return o, nil
}

// place adds a component's outline to the composite so far.
func (c *Component) place(whole, part *glyph.Outline) error {
	moved := make([]glyph.Point, len(part.Points))
	for i, p := range part.Points {
		moved[i] = glyph.Point{X: c.XX.mul(p.X) + c.XY.mul(p.Y), Y: c.YX.mul(p.X) + c.YY.mul(p.Y), Kind: p.Kind}
	}
	var dx, dy fixed.Int26_6
	switch {
	case c.Flags&ArgsAreXY != 0:
		dx, dy = fixed.Int26_6(c.Arg1)<<6, fixed.Int26_6(c.Arg2)<<6
		if c.Flags&ScaledOffset != 0 { // by the lengths of the columns, as FreeType has it (ttgload.c)
			dx, dy = scaled(dx, c.XX, c.XY), scaled(dy, c.YY, c.YX)
		}
	case c.Arg1 >= len(whole.Points) || c.Arg2 >= len(moved):
		return fmt.Errorf("component glyph %d is to meet point %d at point %d, and one of them is missing", c.Index, c.Arg2, c.Arg1)
	default:
		a, b := whole.Points[c.Arg1], moved[c.Arg2]
		dx, dy = a.X-b.X, a.Y-b.Y
	}
	base := len(whole.Points)
	for _, p := range moved {
		whole.Points = append(whole.Points, glyph.Point{X: p.X + dx, Y: p.Y + dy, Kind: p.Kind})
	}
	for _, e := range part.Ends {
		whole.Ends = append(whole.Ends, base+e)
	}
	return nil
}

func scaled(d fixed.Int26_6, a, b F2Dot14) fixed.Int26_6 {
	return fixed.Int26_6(math.Round(float64(d) * math.Hypot(float64(a), float64(b)) / (1 << 14)))
}

// mul scales a length, rounding half away from zero.
func (s F2Dot14) mul(v fixed.Int26_6) fixed.Int26_6 {
	p := int64(s) * int64(v)
	if p < 0 {
		return fixed.Int26_6(-((-p + 1<<13) >> 14))
	}
	return fixed.Int26_6((p + 1<<13) >> 14)
}
