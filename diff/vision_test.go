package diff

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// Figures computed from the formula of Mannos & Sakrison 1974.
func TestContrastSensitivityIsThePublishedCurve(t *testing.T) {
	for f, want := range map[float64]float64{7.89: 0.981, 16: 0.691, 28: 0.234, 41.2: 0.051, 60: 0.0045} {
		require.InDelta(t, want, contrastSensitivity(f), want*0.02, "A(%v)", f)
	}
}

// Daly: 0.78 at 45 degrees; relative sensitivity there 0.70 at 16 cycles a
// degree and 0.42 at 28, computed.
func TestDiagonalsAreSeenLess(t *testing.T) {
	require.InDelta(t, 1, oblique(0), 1e-9)
	require.InDelta(t, 0.78, oblique(math.Pi/4), 1e-9)
	for f, want := range map[float64]float64{16: 0.70, 28: 0.42} {
		require.InDelta(t, want, contrastSensitivity(f/oblique(math.Pi/4))/contrastSensitivity(f), 0.01)
	}
}

// Plain geometry: a pixel at 400 mm, in arc seconds, and its Nyquist frequency.
func TestAPixelsAngleFollowsFromReadingDistance(t *testing.T) {
	for dpi, want := range map[int][2]float64{203: {64.5, 27.9}, 300: {43.7, 41.2}, 600: {21.8, 82.5}} {
		e := newEye(Viewing{DPI: glyph.Dots(dpi), DistanceMM: 400})
		require.InDelta(t, want[0], e.minutesX*60, 0.1)
		require.InDelta(t, want[1], e.nyquist, 0.1)
	}
}
