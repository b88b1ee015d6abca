package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// straighten copies the drawing's outline and draws its flexes straight where
// they are no higher than their threshold (Type 1 book, 8.3): all six points go
// onto the line from where the flex begins to where it ends.
func (f *Fitter) straighten(d *face.Drawing) {
	f.drawn.Points, f.drawn.Ends = append(f.drawn.Points[:0], d.Outline.Points...), d.Outline.Ends
	for _, x := range d.Flexes {
		at, ok := d.FlexPoints(x)
		if !ok {
			continue
		}
		p := func(k int) *fixed.Int26_6 { return along(&f.drawn.Points[at[k]], x.Axis) }
		a, b := p(0), p(6)
		height := abs(f.scale(x.Axis).of(*p(3) - *a))
		if int64(height)*100 > int64(x.Depth) {
			continue
		}
		for k := 1; k < 6; k++ {
			*p(k) = *a + share(*b-*a, fixed.Int26_6(k), 6)
		}
	}
}

func (f *Fitter) scale(a glyph.Axis) scale {
	if a == glyph.AxisX {
		return f.x.scale
	}
	return f.y.scale
}

func along(p *glyph.Point, a glyph.Axis) *fixed.Int26_6 {
	if a == glyph.AxisX {
		return &p.X
	}
	return &p.Y
}
