package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// box is the rectangle about some points, in font units, Y up; the zero value
// is about none.
type box struct {
	some           bool
	x0, y0, x1, y1 fixed.Int26_6
}

func boxOf(points []glyph.Point) (b box) {
	if len(points) == 0 {
		return box{}
	}
	p := points[0]
	b = box{true, p.X, p.Y, p.X, p.Y}
	for i := range points[1:] {
		p := &points[1+i]
		b.x0, b.y0, b.x1, b.y1 = min(b.x0, p.X), min(b.y0, p.Y), max(b.x1, p.X), max(b.y1, p.Y)
	}
	return b
}

func (b box) empty() bool { return !b.some }

func (b box) union(o box) box {
	switch {
	case !b.some:
		return o
	case !o.some:
		return b
	}
	return box{true, min(b.x0, o.x0), min(b.y0, o.y0), max(b.x1, o.x1), max(b.y1, o.y1)}
}

// along is how far the box goes along an axis.
func (b box) along(a glyph.Axis) (lo, hi fixed.Int26_6) {
	if a == glyph.AxisX {
		return b.x0, b.x1
	}
	return b.y0, b.y1
}

// overlaps says that two boxes share a point at least.
func (b box) overlaps(o box) bool {
	return b.some && o.some && b.x0 <= o.x1 && o.x0 <= b.x1 && b.y0 <= o.y1 && o.y0 <= b.y1
}

// contains says that no part of o is outside b.
func (b box) contains(o box) bool {
	return b.some && b.x0 <= o.x0 && o.x1 <= b.x1 && b.y0 <= o.y0 && o.y1 <= b.y1
}
