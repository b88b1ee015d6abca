package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// At 9 pt and 203 dpi, 20 units are half a pixel: what begins as far over a bar whose top is
// on row 11 has the centres of the next row's pixels on its edge, and they would be ink.
func TestWhatNoHintHoldsKeepsOffTheRowBesideAnEdge(t *testing.T) {
	const row = 11 * pixel
	for _, c := range []struct {
		why  string
		over [4]int
		want fixed.Int26_6 // device pixels: the lower edge of what stands over the bar
	}{
		{"half a pixel off", [4]int{100, 470, 200, 600}, row + pixel/2 + 1},
		{"beside the bar, not over it", [4]int{400, 470, 500, 600}, row + pixel/2},
		{"less than half a pixel off", [4]int{100, 469, 200, 600}, row + 31},
		{"far enough as it is", [4]int{100, 510, 200, 600}, row + 97},
	} {
		d := boxes(nil, [4]int{0, 400, 300, 450}, c.over)
		d.Hints = append(d.Hints, bar(400, 450))
		d.Spans[0].Hints = []int{0}
		p := fitter(t, dictionary(), 9, 203, Options{}).Fit(d).Points
		require.Equal(t, row, p[2].Y, c.why)
		require.Equal(t, c.want, p[4].Y, c.why)
		require.Equal(t, p[4].Y, p[5].Y, "%s: both ends", c.why)
	}
}

// The same under a bottom edge, as a cedilla under its letter.
func TestWhatHangsUnderAnEdgeKeepsOffItToo(t *testing.T) {
	d := boxes(nil, [4]int{0, 0, 300, 50}, [4]int{100, -120, 200, -20})
	p := fitter(t, dictionary(), 9, 203, Options{}).Fit(d).Points
	require.Zero(t, p[0].Y)
	require.Equal(t, -pixel/2-1, p[6].Y)
	require.Equal(t, glyph.OnCurve, p[6].Kind)
}
