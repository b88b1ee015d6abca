package raster

import "slices"

// line adds the crossings of a line. A falling one is turned upside down first,
// here as in curves, so that rounding goes the same way for both.
func (p *profiler) line(to point) {
	a, b := p.at, to
	p.at = to
	ay, by := a.y(), b.y()
	if ay == by {
		return
	}
	up := ay < by
	p.turn(up, ay)
	low, high := p.low, p.high
	if !up {
		ay, by = 2*bias-ay, 2*bias-by
		low, high = 2*bias-high, 2*bias-low
	}
	if by < low || ay > high {
		return
	}
	x := a.x()
	dx, dy := b.x()-x, by-ay
	x -= bias
	from, part := p.floor(ay), ay&(p.one-1)
	if ay < low {
		x += mulDiv(dx, low-ay, dy)
		from, part = low, 0
	}
	last := min(p.floor(by), high)
	switch {
	case part == 0:
		p.rejoin()
	case from == last:
		return
	default:
		x += mulDiv(dx, p.one-part, dy)
		from += p.one
	}
	p.joint = last == by || by > high
	p.begin(from)
	n := (last-from)>>(p.bits&31) + 1
	if n >= p.left() {
		p.full = true
		return
	}
	p.meetLine(p.more(n), x, dx, dy)
}

// rejoin takes back the crossing of the scan line on which the last piece ended:
// the next begins with it.
func (p *profiler) rejoin() {
	if p.joint {
		p.store = p.store[:len(p.store)-1]
		p.joint = false
	}
}

// begin notes the first scan line that the open profile meets.
func (p *profiler) begin(y int) {
	if p.fresh {
		p.opened().start = int32((y - bias) >> (p.bits & 31))
		p.fresh = false
	}
}

// more makes room for the crossings of n scan lines.
func (p *profiler) more(n int) []int32 {
	from := len(p.store)
	p.store = slices.Grow(p.store, n)[:from+n]
	return p.store[from:]
}

// mulDiv is a*b/c rounded to nearest, half away from zero; b and c are positive.
func mulDiv(a, b, c int) int {
	v := a * b
	if v < 0 {
		return -((-v + c/2) / c)
	}
	return (v + c/2) / c
}
