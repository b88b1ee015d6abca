package gridfit

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Any bytes anywhere in a font: glyphs are fitted or refused, and what is fitted is
// a whole outline, the same each time.
func FuzzFit(f *testing.F) {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(f, err)
	f.Add(uint32(0), []byte{})
	f.Add(uint32(len(font)/2), []byte{0xFF, 0xFF, 0x2B, 0x1C})
	f.Fuzz(func(t *testing.T, at uint32, patch []byte) {
		damaged := append([]byte{}, font...)
		copy(damaged[int(at)%len(damaged):], patch)
		parsed, err := face.Parse(damaged, 0)
		if err != nil {
			return
		}
		tt, ok := parsed.(*face.TrueType)
		if !ok {
			return
		}
		fit := NewTrueType(tt, glyph.PPEM{X: fixed.I(9) + 13, Y: fixed.I(12)})
		for i := range min(20, tt.NumGlyphs()) {
			first, err := fit.Fit(i)
			if err != nil {
				continue
			}
			points := append([]glyph.Point{}, first.Outline.Points...)
			last := -1
			for _, e := range first.Outline.Ends {
				require.GreaterOrEqual(t, e, last)
				last = e
			}
			require.Equal(t, len(points)-1, last)
			require.Len(t, first.Outline.Modes, len(first.Outline.Ends))
			again, err := fit.Fit(i)
			require.NoError(t, err)
			require.Equal(t, points, append([]glyph.Point{}, again.Outline.Points...))
		}
	})
}
