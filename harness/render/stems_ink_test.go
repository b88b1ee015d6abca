package render

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// area is a rectangle in font units, its sides excluded.
type area struct{ x0, y0, x1, y1 float64 }

// areaOf is the one from a to b along an axis and from c to d across it, each in either order.
func areaOf(a, b, c, d float64) area {
	return area{min(a, b), min(c, d), max(a, b), max(c, d)}
}

// inked says that there is ink in an area: an edge of the outline goes through it, or else
// its middle is inside.
func (a area) inked(flat [][]point) bool {
	return slices.ContainsFunc(flat, a.crossed) || inkAt(flat, (a.x0+a.x1)/2, (a.y0+a.y1)/2)
}

// crossed says that an edge of a contour goes through an area.
func (a area) crossed(contour []point) bool {
	for i, p := range contour {
		if a.meets(p, contour[(i+1)%len(contour)]) {
			return true
		}
	}
	return false
}

// meets says that an edge goes through an area: what of it is between the left and the right
// side has a part between the lower and the upper one.
func (a area) meets(p, q point) bool {
	if p.x > q.x {
		p, q = q, p
	}
	if q.x <= a.x0 || p.x >= a.x1 && p.x < q.x || p.x == q.x && p.x >= a.x1 || max(p.y, q.y) <= a.y0 || min(p.y, q.y) >= a.y1 {
		return false
	}
	if p.x == q.x {
		return true
	}
	rise := (q.y - p.y) / (q.x - p.x)
	left, right := p.y+rise*(max(a.x0, p.x)-p.x), p.y+rise*(min(a.x1, q.x)-p.x)
	return max(left, right) > a.y0 && min(left, right) < a.y1
}

func TestAnAreaIsInkedByWhatGoesThroughIt(t *testing.T) {
	box := [][]point{{{0, 0, true}, {100, 0, true}, {100, 100, true}, {0, 100, true}}}
	wedge := [][]point{{{0, 0, true}, {100, 50, true}, {0, 100, true}}}
	for _, c := range []struct {
		why  string
		flat [][]point
		area area
		want bool
	}{
		{"all of it inside", box, area{20, 20, 40, 40}, true},
		{"an upright edge through it", box, area{90, 20, 120, 40}, true},
		{"a level edge through it", box, area{20, 90, 40, 120}, true},
		{"a corner of the ink", box, area{90, 90, 120, 120}, true},
		{"the ink all inside it", box, area{-10, -10, 120, 120}, true},
		{"it ends where the ink begins", box, area{100, 20, 120, 40}, false},
		{"the same under it", box, area{20, -20, 40, 0}, false},
		{"beside a slanted edge, within its reach", wedge, area{80, 10, 90, 20}, false},
		{"its corner is over the edge", wedge, area{80, 10, 90, 46}, true},
	} {
		require.Equal(t, c.want, c.area.inked(c.flat), c.why)
	}
}
