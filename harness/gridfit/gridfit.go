package gridfit

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Size is the size that a face is fitted at where p is asked for: a TrueType face that sets
// bit 3 of head.flags has whole ppem.
func Size(f face.Face, p glyph.PPEM) glyph.PPEM {
	if t, ok := f.(*face.TrueType); ok && t.HeadFlags()&8 != 0 {
		x, y := p.Nominal()
		return glyph.PPEM{X: fixed.I(x), Y: fixed.I(y)}
	}
	return p
}

// Fitted is one glyph's outline after grid fitting.
type Fitted struct {
	Outline glyph.Outline // 26.6 device pixels, Y up, the glyph's origin at (0, 0)
	Advance fixed.Int26_6 // as the hints left it, not yet rounded to a pixel
	Dropout glyph.Dropout // what the face's program asked for
	Warning error         // what is wrong with the hints of a glyph that is drawn all the same; one line
}

// Take makes f a copy of g, in the memory of f.
func (f *Fitted) Take(g *Fitted) {
	o, from := f.Outline, &g.Outline
	*f = *g
	f.Outline = glyph.Outline{
		Points: append(o.Points[:0], from.Points...), Ends: append(o.Ends[:0], from.Ends...),
		Modes: append(o.Modes[:0], from.Modes...), Recurs: append(o.Recurs[:0], from.Recurs...),
		Tips: append(o.Tips[:0], from.Tips...),
	}
}

// Fitter fits the glyphs of one face at one size. It is for one goroutine;
// the Fitted it returns is valid until the next call.
type Fitter interface {
	Fit(index int) (*Fitted, error)
}
