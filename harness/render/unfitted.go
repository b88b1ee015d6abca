package render

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// unfitted only scales: it moves no point to the grid. It stands in until the
// built-in renderer runs TrueType programs, and the renderer's identity says so.
type unfitted struct {
	face face.Face
	ppem glyph.PPEM
}

// Fit scales one glyph through a 16.16 factor, as FreeType does. Outlines
// without a mode of their own get dropout type 1 (ftraster.c).
func (u unfitted) Fit(index int) (*gridfit.Fitted, error) {
	d, err := u.face.Design(index)
	if err != nil {
		return nil, err
	}
	x, y := factor(u.ppem.X, d.UPEM), factor(u.ppem.Y, d.UPEM)
	o := glyph.Outline{Points: make([]glyph.Point, len(d.Outline.Points)), Ends: d.Outline.Ends}
	for i, p := range d.Outline.Points {
		o.Points[i] = glyph.Point{X: x.scale(int64(p.X) / 64), Y: y.scale(int64(p.Y) / 64), Kind: p.Kind}
	}
	return &gridfit.Fitted{Outline: o, Advance: x.scale(int64(d.Advance)), Dropout: glyph.DropoutType1}, nil
}

// perUnit is 26.6 pixels per font unit, in 16.16.
type perUnit int64

func factor(ppem fixed.Int26_6, upem int) perUnit {
	return perUnit((int64(ppem)<<16 + int64(upem)/2) / int64(upem))
}

// scale rounds half away from zero.
func (f perUnit) scale(units int64) fixed.Int26_6 {
	if units < 0 {
		return -f.scale(-units)
	}
	return fixed.Int26_6((units*int64(f) + 1<<15) >> 16)
}
