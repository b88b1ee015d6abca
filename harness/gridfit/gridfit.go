package gridfit

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Fitted is one glyph's outline after grid fitting.
type Fitted struct {
	Outline glyph.Outline // 26.6 device pixels, Y up, the glyph's origin at (0, 0)
	Advance fixed.Int26_6 // as the hints left it, not yet rounded to a pixel
	Dropout glyph.Dropout // what the face's program asked for
	Warning error         // what is wrong with the hints of a glyph that is drawn all the same; one line
}

// Fitter fits the glyphs of one face at one size. It is for one goroutine;
// the Fitted it returns is valid until the next call.
type Fitter interface {
	Fit(index int) (*Fitted, error)
}
