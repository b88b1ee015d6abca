package render

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestACellIsNoFurtherAwayThanAGlyphCanBe(t *testing.T) {
	// 8 pt at 203 × 406 dpi is 22.5 × 45.1 pixels per em: 32 em are 736 and 1,472 at most.
	s := glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Resolution{X: 203000, Y: 406000}}
	for _, c := range []struct {
		reason                               string
		left, bottom, width, height, advance int
		depth                                int
		mode                                 glyph.Mode
		says                                 string
	}{
		{"a glyph like any other", 0, -3, 10, 30, 12, 1, glyph.Bilevel, ""},
		{"an empty one", 0, 0, 0, 0, 12, 1, glyph.Bilevel, ""},
		{"as far right as may be", 735, 0, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"further right", 736, 0, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as far left as may be", -736, 0, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"further left", -737, 0, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as high as may be, which is not as wide", 0, 1471, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"higher", 0, 1472, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as deep as may be", 0, -1472, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"deeper", 0, -1473, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"the widest advance", 0, 0, 1, 1, 736, 1, glyph.Bilevel, ""},
		{"a wider one", 0, 0, 1, 1, 737, 1, glyph.Bilevel, "absurd"},
		{"the widest to the left", 0, 0, 1, 1, -737, 1, glyph.Bilevel, "absurd"},
		{"grey where the strike is", 0, 0, 1, 1, 12, 8, glyph.Grey, ""},
		{"grey where ink is on or off", 0, 0, 1, 1, 12, 8, glyph.Bilevel, "has 8 bits per pixel; a bilevel strike has 1"},
		{"one bit where the strike is grey", 0, 0, 1, 1, 12, 1, glyph.Grey, "has 1 bits per pixel; a grey strike has 8"},
	} {
		s.Mode = c.mode
		cell := glyph.Cell{Ref: glyph.Ref{Key: "e"}, Advance: c.advance, Bitmap: glyph.Bitmap{Left: c.left, Bottom: c.bottom, Width: c.width, Height: c.height, Depth: c.depth}}
		err := plausible(&cell, s)
		if c.says == "" {
			require.NoError(t, err, c.reason)
		} else {
			require.ErrorContains(t, err, c.says, c.reason)
		}
	}
}
