package gridfit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Every glyph of DejaVu Sans, by size; make bench sets it beside FreeType.
func BenchmarkFit(b *testing.B) {
	f, err := face.Open("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", 0)
	require.NoError(b, err)
	for _, p := range []struct {
		name string
		ppem glyph.PPEM
	}{{"8pt-203dpi", ppemsOf(203, 203, 8)[0]}, {"12pt-300dpi", ppemsOf(300, 300, 12)[0]}, {"18pt-600dpi", ppemsOf(600, 600, 18)[0]}} {
		b.Run(p.name, func(b *testing.B) {
			fit := NewTrueType(f.(*face.TrueType), p.ppem)
			n := f.(*face.TrueType).NumGlyphs()
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				_, err := fit.Fit(i % n)
				require.NoError(b, err)
			}
		})
	}
}
