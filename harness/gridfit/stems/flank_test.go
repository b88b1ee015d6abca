package stems

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// A flank at 100 units goes to 7 px, from its foot at point 0 to its head at point 1; what
// follows the head is at issue.
func TestAFlankTakesTheControlPointsAlongThatLeaveItUpright(t *testing.T) {
	for _, c := range []struct {
		why  string
		next glyph.Point
		goes bool
	}{
		{"a curve that leaves it upright", glyph.Point{X: fu(100), Y: fu(450), Kind: glyph.Cubic}, true},
		{"a curve that leaves it aslant", glyph.Point{X: fu(110), Y: fu(450), Kind: glyph.Cubic}, false},
		{"a corner further on, of another flank", glyph.Point{X: fu(100), Y: fu(450)}, false},
	} {
		f := &Fitter{held: make([]hold, 5)}
		f.drawn.Points = []glyph.Point{{X: fu(100)}, {X: fu(100), Y: fu(400)}, c.next, {X: fu(200), Y: fu(500)}, {X: fu(200)}}
		f.out.Points = slices.Clone(f.drawn.Points)
		f.stand(&flank{end: 5, top: 1, up: true}, 7*pixel)
		want := slices.Clone(f.drawn.Points)
		want[0].X, want[1].X = 7*pixel, 7*pixel
		if c.goes {
			want[2].X = 7 * pixel
		}
		require.Equal(t, want, f.out.Points, c.why)
	}
}

// A stem from 100 to 184 units and what a point of one of its flanks was put on.
func TestAFlankIsBoundByAnEdgeWithItsInkOnTheSameSide(t *testing.T) {
	left, right := edge{from: fu(100)}, edge{from: fu(184)}
	for _, c := range []struct {
		why  string
		at   int // font units
		left bool
		on   hold
		want bool
	}{
		{"the left flank on the left edge", 100, true, hold{true, left, right}, true},
		{"the right flank on the right edge", 184, false, hold{true, left, right}, true},
		{"the left flank on another stem's right edge", 100, true, hold{true, edge{from: fu(16)}, left}, false},
		{"the right flank on another stem's left edge", 184, false, hold{true, right, edge{from: fu(268)}}, false},
		{"on no edge, between stems", 184, false, hold{false, left, edge{from: fu(300)}}, false},
	} {
		f := &Fitter{held: []hold{c.on}}
		f.drawn.Points = []glyph.Point{{X: fu(c.at)}}
		require.Equal(t, c.want, f.bounds(&flank{left: c.left}, 0), c.why)
	}
}
