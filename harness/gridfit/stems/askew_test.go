package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// At 13 pt and 203 dpi, 74 units are taken for 61 and 75 for 70: 2 px and 3.
func TestAStemDrawnAUnitAskewIsOneStem(t *testing.T) {
	for _, c := range []struct {
		why  string
		snap float64
		bars []face.Hint
		want []int // px
	}{
		{"each half under a hint of its own: the wider", 70, []face.Hint{bar(300, 374), bar(300, 375)}, []int{3, 3}},
		{"the wider one is declared first", 70, []face.Hint{bar(300, 375), bar(301, 375)}, []int{3, 3}},
		{"another bar is as wide as the narrower", 70, []face.Hint{bar(300, 374), bar(300, 375), bar(100, 174)}, []int{2, 2, 2}},
		{"another bar is as wide as either", 70, []face.Hint{bar(300, 374), bar(300, 375), bar(100, 174), bar(500, 575)}, []int{2, 3, 2, 3}},
		{"two bars that are askew have no say in each other's width", 70, []face.Hint{bar(300, 374), bar(300, 375), bar(500, 575), bar(501, 575)}, []int{3, 3, 3, 3}},
		{"the dictionary has the narrower", 74, []face.Hint{bar(300, 374), bar(300, 375)}, []int{2, 2}},
		{"upper ends two units apart", 70, []face.Hint{bar(300, 374), bar(300, 376)}, []int{3, 3}},
		{"lower ends two units apart", 70, []face.Hint{bar(300, 374), bar(298, 374)}, []int{3, 3}},
		{"ends three units apart: two stems", 70, []face.Hint{bar(300, 374), bar(302, 377)}, []int{2, 3}},
		{"elsewhere in the glyph: two stems", 70, []face.Hint{bar(300, 374), bar(600, 675)}, []int{2, 3}},
	} {
		p := &face.Private{StdHW: 61, StemSnapH: []float64{61, c.snap}}
		for i, s := range chosenAt(t, p, 13, 203, c.bars...) {
			require.Equal(t, fixed.I(c.want[i]), s.GivenHi-s.GivenLo, "%s: bar %d", c.why, i)
		}
	}
}
