package raster

import "slices"

// tangled says that signed areas may not add up to what is covered: that contours
// may cross or touch, lie in one another with the same direction, or run in
// different directions. Where it is false every point has the winding number 0 or
// that of one direction. It errs on the side of true.
//
// Contours that meet nowhere have the same winding number all along each side. So
// it is enough that no two pieces of edge meet, and that each contour is seen on
// the middle line of some row of pixels as the border between outside and inside.
func (a *areas) tangled() bool {
	a.seen = resize(a.seen, int(a.contours))
	clear(a.seen)
	way := int32(0) // in which contours are entered from the left
	for y := range a.first {
		if a.meet(y) || !a.alternate(y, &way) {
			return true
		}
	}
	for _, seen := range a.seen {
		if seen == 0 && a.contours > 1 {
			return true
		}
	}
	return false
}

// meet says that two pieces of a row meet that do not follow each other.
func (a *areas) meet(y int) bool {
	for i := a.first[y]; i >= 0; i = a.pieces[i].next {
		p := &a.pieces[i]
		left, right := min(p.low.x, p.high.x), max(p.low.x, p.high.x)
		for j := p.next; j >= 0; j = a.pieces[j].next {
			q := &a.pieces[j]
			if q.low.x > right && q.high.x > right || q.low.x < left && q.high.x < left || q.high.y < p.low.y || q.low.y > p.high.y {
				continue
			}
			if !a.follow(p, q) && touch(p, q) {
				return true
			}
		}
	}
	return false
}

// follow says that two pieces are of edges that follow each other in one contour.
func (a *areas) follow(p, q *piece) bool {
	if p.contour != q.contour {
		return false
	}
	from, to := a.starts[p.contour], a.edges
	if p.contour+1 < a.contours {
		to = a.starts[p.contour+1]
	}
	n := to - from
	return (p.edge-q.edge+1+n)%n <= 2
}

// touch says that two pieces share a point.
func touch(p, q *piece) bool {
	if p.level || q.level {
		return true // their boxes meet; that is near enough
	}
	low, high := max(p.low.y, q.low.y), min(p.high.y, q.high.y)
	d := p.xAt(low) - q.xAt(low)
	e := p.xAt(high) - q.xAt(high)
	return d == 0 || e == 0 || (d < 0) != (e < 0)
}

// alternate says that the contours on the middle line of a row go in and out by
// turns, in one way all over the outline. It notes which contours are there.
func (a *areas) alternate(y int, way *int32) bool {
	middle := y<<subpixelBits + subpixel/2 + 1 // no point of 26.6 lies there
	a.marks = a.marks[:0]
	for i := a.first[y]; i >= 0; i = a.pieces[i].next {
		if p := &a.pieces[i]; p.low.y <= middle && p.high.y > middle {
			a.seen[p.contour] = 1
			a.mark(mark{p.xAt(middle), p.way()})
		}
	}
	expected := *way
	for _, m := range a.marks {
		if expected == 0 {
			*way, expected = m.way, m.way
		}
		if m.way != expected {
			return false
		}
		expected = -expected
	}
	return true
}

// mark puts m in its place from left to right. A tip, whose two edges pass the line
// at one point, makes no mark.
func (a *areas) mark(m mark) {
	k := len(a.marks)
	for k > 0 && a.marks[k-1].x > m.x {
		k--
	}
	if k > 0 && a.marks[k-1] == (mark{m.x, -m.way}) {
		a.marks = slices.Delete(a.marks, k-1, k)
		return
	}
	a.marks = slices.Insert(a.marks, k, m)
}

// mark is where an edge passes a line, and which way: 1 up, -1 down.
type mark struct {
	x   int
	way int32
}

func (p *piece) way() int32 {
	if p.up {
		return 1
	}
	return -1
}

func (p *piece) xAt(y int) int {
	switch y {
	case p.low.y:
		return p.low.x
	case p.high.y:
		return p.high.x
	}
	return xAt(p.low, p.high, y)
}
