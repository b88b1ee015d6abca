package gridfit

import (
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/bytecode"
	"smokeproof/harness/gridfit/stems"
)

// Explainer is a Fitter that can tell why a glyph came out as it did.
type Explainer interface {
	// Explain fits a glyph and tells what decided each of its positions. Its
	// errors are those of Fit.
	Explain(index int) (*Reasons, error)
}

// Reasons are what applied to one glyph at one size.
type Reasons struct {
	UPEM            int
	PPEM            glyph.PPEM
	Dropout         glyph.Dropout
	Linear, Advance fixed.Int26_6 // device pixels: the scaled advance, and the fitted one
	Hints           stems.Choices // of PostScript faces
	Notes           []string      // what else applied, a sentence each
}

// Explain fits one glyph by its instructions and tells what applied.
func (t *trueType) Explain(index int) (*Reasons, error) {
	f, err := t.Fit(index)
	if err != nil {
		return nil, err
	}
	upem := t.face.UPEM()
	x, y := fixed.Int26_6(bytecode.MulFix(int32(upem), t.size.ScaleX)), fixed.Int26_6(bytecode.MulFix(int32(upem), t.size.ScaleY))
	r := &Reasons{
		UPEM: upem, PPEM: glyph.PPEM{X: x, Y: y},
		Dropout: f.Dropout, Linear: glyph.Scale(t.face.Advance(index), x, upem), Advance: f.Advance,
	}
	r.Notes = append(r.Notes, fmt.Sprintf("Instructions are told %d × %d ppem.", t.size.PPEMX, t.size.PPEMY))
	g, err := t.face.Glyph(index)
	switch {
	case err != nil:
		return nil, err
	case t.failed == nil && !t.hinted:
		r.Notes = append(r.Notes, "The control value program switches glyph programs off: the outline is only scaled.")
	case t.failed != nil:
		// the warning says it all
	case len(g.Components) > 0:
		r.Notes = append(r.Notes, fmt.Sprintf("A composite of %d glyphs, each fitted by its own program; then %d bytes of its own.", len(g.Components), len(g.Instructions)))
	case len(g.Instructions) == 0:
		r.Notes = append(r.Notes, "The glyph has no program: its outline is only scaled.")
	default:
		r.Notes = append(r.Notes, fmt.Sprintf("The glyph's program is %d bytes.", len(g.Instructions)))
	}
	if f.Warning != nil {
		r.Notes = append(r.Notes, "It is "+f.Warning.Error()+".")
	}
	return r, nil
}
