package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// An O, a hole that runs the other way and lies in it, and a contour that runs like the
// hole and lies in nothing: drawn amiss, and inked.
func TestOnlyWhatLiesInAContourAndRunsTheOtherWayIsAHole(t *testing.T) {
	d := boxes(nil, [4]int{0, 0, 500, 500}, [4]int{100, 100, 400, 400}, [4]int{0, 600, 500, 700})
	for _, ring := range [][2]int{{4, 8}, {8, 12}} {
		p := d.Outline.Points[ring[0]:ring[1]]
		p[1], p[3] = p[3], p[1]
	}
	f := fitter(t, dictionary(), 8, 203, Options{})
	f.Fit(d)
	var holes []bool
	for _, c := range f.measured {
		holes = append(holes, c.hole)
	}
	require.Equal(t, []bool{false, true, false}, holes)
}

func TestAHoleIsOfOneShapeWithWhatItIsIn(t *testing.T) {
	around := func(hole bool, x0, x1 int) contour {
		return contour{from: x0, hole: hole, box: box{true, fu(x0), fu(x0), fu(x1), fu(x1)}}
	}
	outer, hole, beside := around(false, 0, 500), around(true, 100, 400), around(true, 600, 700)
	island := around(false, 200, 300)
	for _, c := range []struct {
		why  string
		a, b contour
		want bool
	}{
		{"one contour", outer, outer, true},
		{"a contour and its hole", outer, hole, true},
		{"a hole and its contour", hole, outer, true},
		{"the hole of another", outer, beside, false},
		{"the hole of another, the other way round", beside, outer, false},
		{"ink in ink", outer, island, false},
		{"ink in ink, the other way round", island, outer, false},
	} {
		require.Equal(t, c.want, c.a.shares(&c.b), c.why)
	}
}

// A round shoulder up to 450, in one contour with the edges of a bar from 405 to 460 that is
// in force: points at 450 would stand between those edges. Two control points are level with the
// shoulder's top, two are a way off it.
func TestOnlyControlPointsLevelWithAnExtremeStandOnItsRow(t *testing.T) {
	d := boxes([]face.Hint{bar(405, 460)}, [4]int{600, 0, 700, 450})
	for i, p := range [][2]int{{0, -10}, {500, -10}, {500, 460}, {400, 460}, {400, 405}, {400, 300}, {300, 300},
		{300, 380}, {250, 450}, {150, 450}, {50, 450}, {0, 350}, {0, 225}} {
		q := glyph.Point{X: fu(p[0]), Y: fu(p[1])}
		if i == 7 || i == 8 || i == 10 || i == 11 {
			q.Kind = glyph.Cubic
		}
		d.Outline.Points = append(d.Outline.Points, q)
	}
	d.Outline.Ends = append(d.Outline.Ends, 16)
	o := fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Points[4:]
	for _, i := range []int{8, 9, 10} {
		require.Equal(t, fixed.I(10), o[i].Y, "point %d, of the top", i)
	}
	for _, i := range []int{7, 11} {
		require.Less(t, o[i].Y, fixed.I(9), "point %d, beside it", i)
	}
}
