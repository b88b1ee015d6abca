package gridfit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Every glyph of DejaVu Sans in turn, by size: ns a glyph.
func BenchmarkFit(b *testing.B) {
	f, err := face.Open("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", 0)
	if err != nil {
		missing(b, err.Error())
	}
	for _, p := range []struct {
		name string
		ppem glyph.PPEM
	}{{"8pt-203dpi", ppemsOf(203, 203, 8)[0]}, {"12pt-300dpi", ppemsOf(300, 300, 12)[0]}, {"18pt-600dpi", ppemsOf(600, 600, 18)[0]}} {
		b.Run(p.name, func(b *testing.B) {
			fit := NewTrueType(f.(*face.TrueType), p.ppem)
			n := len(f.Refs())
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				if _, err := fit.Fit(i % n); err != nil {
					require.NoError(b, err)
				}
			}
		})
	}
}

// What a size costs before its first glyph: the control value program alone, as the
// font program has run for the face.
func BenchmarkNewSize(b *testing.B) {
	f, err := face.Open("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", 0)
	if err != nil {
		missing(b, err.Error())
	}
	sizes := ppemsOf(300, 300, 8, 12, 18)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		NewTrueType(f.(*face.TrueType), sizes[i%len(sizes)])
	}
}
