package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// Two stems, 84 units wide, on 2 to 4 and 9 to 11 px, with a gap of 4.87 px that became 5,
// and points that no stem holds. A contour may run either way.
func TestWhatAContourDrawsBesideItsStemsStaysAtItsDistance(t *testing.T) {
	outer := [][2]int{{100, 0}, {484, 0}, {484, 662}, {400, 662}, {400, 60}}
	for _, c := range []struct {
		why   string
		drawn [2]int
		want  fixed.Int26_6
	}{
		{"between them: the middle takes up what the gap gained", [2]int{290, 90}, 413},
		{"right of both, on the way from the one to the other", [2]int{500, 700}, 11*pixel + 23},
		{"left of both", [2]int{84, 700}, 2*pixel - 23},
	} {
		points := append(append([][2]int{}, outer...), c.drawn, [2]int{184, 60}, [2]int{184, 662}, [2]int{100, 662})
		for _, backward := range []bool{false, true} {
			d := polygon([]face.Hint{upright(100, 184), upright(400, 484)}, points)
			at := len(outer)
			if backward {
				for i, k := 0, len(points)-1; i < k; i, k = i+1, k-1 {
					d.Outline.Points[i], d.Outline.Points[k] = d.Outline.Points[k], d.Outline.Points[i]
				}
				at = len(points) - 1 - at
			}
			o := fitter(t, &face.Private{}, 8, 203, Options{}).Fit(d).Points
			require.Equal(t, c.want, o[at].X, "%s, backward: %v", c.why, backward)
		}
	}
}
