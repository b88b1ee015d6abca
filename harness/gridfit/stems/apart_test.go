package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// A cross whose stem stands on 14 to 20 px, asked 14 to 19.6, so that its arm comes to end
// 0.4 px further right; and beside it a stem asked 29.2 to 30.7 px, which stands on 29.
func TestABarKeepsOffTheStemThatItEndsBeside(t *testing.T) {
	const scaled = 20*pixel + 8*pixel + pixel/2 // where an arm to 453 would end
	for _, c := range []struct {
		why    string
		arm    int
		beside [4]int
		want   fixed.Int26_6
	}{
		{"1.05 px of white between them", 453, [4]int{470, 0, 495, 600}, 28 * pixel},
		{"0.8 px", 457, [4]int{470, 0, 495, 600}, scaled + pixel/4},
		{"the stem is above the arm", 453, [4]int{470, 500, 495, 1100}, scaled},
	} {
		hints := []face.Hint{upright(225, 316), upright(c.beside[0], c.beside[2])}
		d := polygon(hints, [][2]int{{225, 50}, {316, 50}, {316, 404}, {c.arm, 404}, {c.arm, 489}, {316, 489}, {316, 641}, {225, 641}})
		for _, p := range [][2]int{{c.beside[0], c.beside[1]}, {c.beside[2], c.beside[1]}, {c.beside[2], c.beside[3]}, {c.beside[0], c.beside[3]}} {
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
		}
		d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
		p := fitter(t, &face.Private{}, 22, 203, Options{}).Fit(d).Points
		require.Equal(t, fixed.I(29), p[8].X, c.why)
		require.Equal(t, []fixed.Int26_6{c.want, c.want}, []fixed.Int26_6{p[3].X, p[4].X}, c.why)
	}
}
