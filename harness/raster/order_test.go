package raster

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// drawnInOrder is what a Rasterizer draws that puts the edges of every line in order.
func (r *Rasterizer) drawnInOrder(t testing.TB, o *glyph.Outline, mode glyph.Dropout) glyph.Bitmap {
	b, err := r.box(o, 1, pixelCenters)
	require.NoError(t, err)
	s := &r.sweep
	s.bitmap, s.precision, s.mode = b, coarse, mode
	if r.HighPrecision {
		s.precision = fine
	}
	if mode&2 != 0 {
		s.mode = glyph.DropoutOff
	}
	if b.Width > 0 && b.Height > 0 {
		s.inOrder(o)
	}
	return trim(b)
}

// Lines without doubt must come out as from their edges in order; so must contours that are
// known.
func TestSheetsDrawWhatEdgesInOrderDraw(t *testing.T) {
	var ordered Rasterizer
	same := func(r *Rasterizer, o *glyph.Outline, mode glyph.Dropout, what string) {
		got, err := r.Bilevel(o, glyph.Center, mode)
		require.NoError(t, err, what)
		ordered.HighPrecision = r.HighPrecision
		want := ordered.drawnInOrder(t, o, mode)
		if !got.Equal(&want) {
			t.Fatalf("%s, mode %d\n%s\nwant\n%s", what, mode, art(&got), art(&want))
		}
	}
	const seed, outlines = 5, 10_000
	rng := rand.New(rand.NewPCG(seed, seed))
	for _, high := range []bool{false, true} {
		r := Rasterizer{HighPrecision: high}
		for i := range outlines {
			same(&r, randomOutline(rng), modes[rng.IntN(len(modes))], fmt.Sprintf("outline %d of seed %d", i, seed))
		}
	}
	for name, font := range map[string][]byte{"Go Regular": goregular.TTF, "Go Italic": goitalic.TTF} {
		f, err := face.Parse(font, 0)
		require.NoError(t, err)
		for _, ppem := range []fixed.Int26_6{9 * 64, 1083, 1443, 24 * 64, 2133, 50 * 64, 100 * 64} {
			fitter := gridfit.NewTrueType(f.(*face.TrueType), glyph.PPEM{X: ppem, Y: ppem})
			r := Rasterizer{HighPrecision: ppem < 24*64}
			for _, ref := range f.Refs() {
				g, err := fitter.Fit(ref.Index)
				require.NoError(t, err)
				if len(g.Outline.Points) > 0 {
					same(&r, &g.Outline, g.Dropout, fmt.Sprintf("%s, glyph %q at %v ppem", name, ref.Key, ppem))
					same(&r, &g.Outline, modes[ref.Index%len(modes)], fmt.Sprintf("%s, glyph %q at %v ppem", name, ref.Key, ppem))
				}
			}
		}
	}
}

// Eight contours over each other wind eight times round a pixel, which modulo 8 is none.
func TestContoursMayLieOverEachOtherEightTimes(t *testing.T) {
	o := &glyph.Outline{}
	for range 8 {
		o.Points = append(o.Points, rect(0, 0, 320, 320).Points...)
		o.Ends = append(o.Ends, len(o.Points)-1)
	}
	var r Rasterizer
	b, err := r.Bilevel(o, glyph.Center, glyph.DropoutOff)
	require.NoError(t, err)
	require.Equal(t, 25, b.Ink())
}
