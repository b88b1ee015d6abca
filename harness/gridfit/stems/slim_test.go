package stems

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// A bar between the arch of an h and its serif, which zones hold: at 7 pt and 300 dpi on
// rows 13 and 18, and each of the three is 2 px thick, so that three rows are left for
// the bar and the white over and under it.
func TestABarGivesUpAPixelForTheWhiteBesideIt(t *testing.T) {
	zones := &face.Private{BlueValues: []float64{-10, 0, 440, 450, 612, 622}, BlueScale: 0.0396}
	barred := []face.Hint{bar(380, 440), bar(462, 524), bar(552, 612)}
	for _, c := range []struct {
		why     string
		hints   []face.Hint
		lo, hi  int // of the bar, font units
		wide    int
		dpi     int
		low, px int // of the bar, pixels
	}{
		{"white on either side", barred, 462, 524, 300, 300, 14, 1},
		{"there is room for all of it at 600 dpi", barred, 462, 524, 300, 600, 27, 4},
		{"another bar is as thick: it keeps off the row of the arch", append([]face.Hint{bar(-262, -200)}, barred...), 462, 524, 300, 300, 14, 2},
		{"a dot is no bar, and keeps off that row too", barred, 462, 524, 60, 300, 14, 2},
		{"two rows are left, and one white of two is had", barred, 462, 524, 300, 260, 12, 1},
		{"without the white over it a pixel less would open nothing", []face.Hint{bar(380, 440), bar(445, 547), bar(552, 612)}, 445, 547, 300, 300, 13, 3},
	} {
		rects := [][4]int{{0, 380, c.wide, 440}, {0, c.lo, c.wide, c.hi}, {0, 552, c.wide, 612}}
		if len(c.hints) > 3 {
			rects = append(rects, [4]int{0, -262, c.wide, -200})
		}
		f := fitter(t, zones, 7, c.dpi, Options{})
		f.Fit(boxes(c.hints, rects...))
		found := false
		for _, s := range f.Choices().Stems {
			if s.Axis == glyph.AxisY && s.Lo == fu(c.lo) && s.Hi == fu(c.hi) {
				found = true
				require.EqualValues(t, c.low, s.GivenLo/pixel, c.why)
				require.EqualValues(t, c.px, (s.GivenHi-s.GivenLo)/pixel, c.why)
			}
		}
		require.True(t, found, c.why)
	}
}
