package harness

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

func TestAnOutlineIsWrittenAsAPath(t *testing.T) {
	on := func(x, y int) glyph.Point { return glyph.Point{X: fixed.Int26_6(x), Y: fixed.Int26_6(y)} }
	quad := func(x, y int) glyph.Point {
		return glyph.Point{X: fixed.Int26_6(x), Y: fixed.Int26_6(y), Kind: glyph.Quad}
	}
	cubic := func(x, y int) glyph.Point {
		return glyph.Point{X: fixed.Int26_6(x), Y: fixed.Int26_6(y), Kind: glyph.Cubic}
	}
	for _, c := range []struct {
		reason string
		points []glyph.Point
		want   string
	}{
		{"straight lines close", []glyph.Point{on(0, 0), on(8, 0), on(8, 8)}, "M0 0L8 0L8 8L0 0Z"},
		{"a control belongs to the point behind it", []glyph.Point{on(0, 0), quad(8, 0), on(8, 8)}, "M0 0Q8 0 8 8L0 0Z"},
		{"the last control ends in the first point", []glyph.Point{on(0, 0), on(8, 0), quad(8, 8)}, "M0 0L8 0Q8 8 0 0Z"},
		{"between two controls a point is implied", []glyph.Point{on(0, 0), quad(8, 0), quad(8, 8), on(0, 8)}, "M0 0Q8 0 8 4Q8 8 0 8L0 0Z"},
		{"a contour may begin with a control", []glyph.Point{quad(8, 8), on(0, 0), on(8, 0)}, "M0 0L8 0Q8 8 0 0Z"},
		{"and have no other points", []glyph.Point{quad(0, 0), quad(8, 0), quad(8, 8), quad(0, 8)}, "M0 4Q0 0 4 0Q8 0 8 4Q8 8 4 8Q0 8 0 4Z"},
		{"cubics take two controls", []glyph.Point{on(0, 0), cubic(0, 4), cubic(4, 8), on(8, 8)}, "M0 0C0 4 4 8 8 8L0 0Z"},
		{"a single point is none", []glyph.Point{on(3, 3)}, ""},
	} {
		o := &glyph.Outline{Points: c.points, Ends: []int{len(c.points) - 1}}
		require.Equal(t, c.want, svgPath(o), c.reason)
	}
}
