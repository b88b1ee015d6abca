package stems

import (
	"math"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// implyEdges adds an edge for each extreme of the outline that lies in a zone
// and that no hint declares, so that it stands on the zone's row all the same.
// It gives way to every declared stem.
func (f *Fitter) implyEdges() {
	for _, e := range f.y.extremes {
		f.imply(e)
	}
}

// lookForExtremes lists where the drawing has the top or the bottom of ink.
func (f *Fitter) lookForExtremes() {
	f.y.extremes = f.y.extremes[:0]
	for _, c := range f.measured {
		points := f.drawn.Points[c.from:c.end]
		for i := range points {
			if g := extreme(points, i, c.inkLeft); g != face.NoGhost {
				x0, x1 := level(points, i)
				f.y.extremes = append(f.y.extremes, extremeAt{points[i].Y, x0, x1, g, c.from + i, c})
			}
		}
	}
}

// level is how far a contour goes along X on the row of a point, from the point before
// it to the one after it.
func level(contour []glyph.Point, i int) (x0, x1 fixed.Int26_6) {
	n := len(contour)
	x0, x1 = contour[i].X, contour[i].X
	for _, p := range [...]glyph.Point{contour[(i+n-1)%n], contour[(i+1)%n]} {
		if p.Y == contour[i].Y {
			x0, x1 = min(x0, p.X), max(x1, p.X)
		}
	}
	return x0, x1
}

// extreme says whether a point is the top or the bottom of ink, going by the
// turn that the outline takes there, or by its way where it goes straight on.
// inkLeft says on which side of its way the ink is.
func extreme(contour []glyph.Point, i int, inkLeft bool) face.Ghost {
	n := len(contour)
	p, before, after := contour[i], contour[(i+n-1)%n], contour[(i+1)%n]
	up, down := before.Y <= p.Y && after.Y <= p.Y, before.Y >= p.Y && after.Y >= p.Y
	turn := int64(p.X-before.X)*int64(after.Y-p.Y) - int64(p.Y-before.Y)*int64(after.X-p.X)
	if turn == 0 { // flat
		turn, up = int64(before.X-after.X), true
	}
	switch {
	case p.Kind != glyph.OnCurve || turn == 0 || !up && !down:
		return face.NoGhost
	case (turn > 0) == inkLeft == up:
		return face.GhostTop
	}
	return face.GhostBottom
}

// extremeAt is a point where the drawing has the top or the bottom of ink.
type extremeAt struct {
	y      fixed.Int26_6 // font units
	x0, x1 fixed.Int26_6 // how far the outline is level there, control points included
	of     face.Ghost
	point  int
	contour
}

// stretch is the points from one index up to another.
type stretch struct{ from, end int }

var allPoints = stretch{0, math.MaxInt}

// drawn says that some points have ink that begins, or ends, at a coordinate.
func (a *axis) drawn(y fixed.Int26_6, of face.Ghost, points stretch) bool {
	return slices.ContainsFunc(a.extremes, func(e extremeAt) bool {
		return e.y == y && e.of == of && points.from <= e.point && e.point < points.end
	})
}

// measureContours finds which way outer contours run, with their ink at the left,
// as the Type 1 book has them (chapter 4), or at the right; and on which side each
// contour has it.
func (f *Fitter) measureContours() {
	var sum int64
	f.contours(func(from, end int) { sum += twiceArea(f.drawn.Points[from:end]) })
	f.leftward = sum > 0
	f.outers = f.outers[:0]
	f.contours(func(from, end int) {
		if c := f.drawn.Points[from:end]; twiceArea(c) > 0 == f.leftward {
			f.outers = append(f.outers, boxOf(c))
		}
	})
	f.measured = f.measured[:0]
	f.contours(func(from, end int) {
		points := f.drawn.Points[from:end]
		inkLeft, inner := f.inkLeft(points), twiceArea(points) > 0 != f.leftward
		f.measured = append(f.measured, contour{from, end, inkLeft, inner && inkLeft == f.leftward, boxOf(points)})
	})
}

// contour is the points of the drawing from one index up to another.
type contour struct {
	from, end int
	inkLeft   bool // of its way
	hole      bool
	box       box
}

// shares says that two contours are of one shape: the same, or the one a hole in the other.
func (c *contour) shares(o *contour) bool {
	return *c == *o || c.hole && o.box.contains(c.box) || o.hole && c.box.contains(o.box)
}

// inkLeft says on which side of a contour's way its ink is. A contour that runs
// the other way and lies in no outer one is no hole but drawn amiss: inked all the
// same, as an accent in Latin Modern is.
func (f *Fitter) inkLeft(contour []glyph.Point) bool {
	if twiceArea(contour) > 0 == f.leftward {
		return f.leftward
	}
	b := boxOf(contour)
	hole := slices.ContainsFunc(f.outers, func(o box) bool { return o.contains(b) })
	return f.leftward == hole
}

// twiceArea is positive where a contour runs counter-clockwise.
func twiceArea(contour []glyph.Point) (sum int64) {
	for i := range contour {
		p, q := contour[i], contour[(i+1)%len(contour)]
		sum += (int64(p.X)*int64(q.Y) - int64(q.X)*int64(p.Y)) >> 12
	}
	return sum
}

func (f *Fitter) imply(e extremeAt) {
	zone := catch(f.y.zones, e.y, e.of == face.GhostTop)
	if zone < 0 || f.y.goesOn(e.y) {
		return
	}
	row, n := f.y.zones[zone].fit(e.y), e.end-e.from
	f.aligned = append(f.aligned, alignedPoint{e.point, row})
	for _, step := range [...]int{n - 1, 1} {
		for k := 1; k < min(n, 3); k++ {
			at := e.from + (e.point-e.from+k*step)%n
			if p := &f.drawn.Points[at]; p.Kind == glyph.OnCurve || p.Y != e.y {
				break
			}
			f.aligned = append(f.aligned, alignedPoint{at, row})
		}
	}
	if len(f.y.stems) < maxStems && !f.y.hasEdge(e.y, e.of) {
		f.y.stems = append(f.y.stems, stem{lo: e.y, hi: e.y, ghost: e.of, implied: true, zone: zone})
	}
}

// alignedPoint is an extreme of the outline in a zone, or a control point level with
// it of a curve that ends there, and where the zone puts it: there it stands whatever stem in
// force contradicts it, as the round half of an œ does its flat one.
type alignedPoint struct {
	point int
	y     fixed.Int26_6 // device pixels, whole
}

// hasEdge says that a stem has a bottom or a top edge, as g is the one or the
// other, at a coordinate.
func (a *axis) hasEdge(y fixed.Int26_6, g face.Ghost) bool {
	for i := range a.stems {
		s := &a.stems[i]
		if g == face.GhostTop && s.ghost != face.GhostBottom && s.hi == y || g == face.GhostBottom && s.ghost != face.GhostTop && s.lo == y {
			return true
		}
	}
	return false
}
