package gridfit

import "smokeproof/harness/glyph"

// Plain is all that a face does at a size to glyphs that no program moves (face.TrueType.AppendPlain).
type Plain struct {
	hinted  bool // advances are rounded, and offsets of components that ask for it
	dropout glyph.Dropout
}

// PlainOf tells what a fitter does to such glyphs. It is false where that is not known, or
// where they come with a warning.
func PlainOf(f Fitter) (p Plain, ok bool) {
	t, ok := f.(*trueType)
	if !ok || t.machine == nil {
		return Plain{}, false
	}
	t.machine.Begin()
	return Plain{hinted: t.hinted, dropout: glyph.Dropout(min(t.machine.Dropout(), 7))}, true
}
