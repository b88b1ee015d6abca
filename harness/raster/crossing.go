package raster

// line adds the crossings of a line. A falling one is turned upside down first,
// here as in curves, so that rounding goes the same way for both.
func (p *profiler) line(to vec) {
	a, b := p.at, to
	p.at = to
	if a.y == b.y {
		return
	}
	up := a.y < b.y
	p.turn(up, a.y)
	low, high := p.low, p.high
	if !up {
		a.y, b.y = -a.y, -b.y
		low, high = -high, -low
	}
	if b.y < low || a.y > high {
		return
	}
	dx, dy := b.x-a.x, b.y-a.y
	x, from, part := a.x, p.floor(a.y), a.y&(p.one-1)
	if a.y < low {
		x += mulDiv(dx, low-a.y, dy)
		from, part = low, 0
	}
	last := min(p.floor(b.y), high)
	switch {
	case part == 0:
		p.rejoin()
	case from == last:
		return
	default:
		x += mulDiv(dx, p.one-part, dy)
		from += p.one
	}
	p.joint = last == b.y || b.y > high
	p.begin(from)
	n := (last-from)>>p.bits + 1
	if n >= p.left() {
		p.full = true
		return
	}
	p.run(x, dx, dy, n)
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
		p.cur.start = int32(y >> p.bits)
		p.fresh = false
	}
}

// run adds n crossings a scan line apart, without drift.
func (p *profiler) run(x, dx, dy, n int) {
	if n == 1 {
		p.store = append(p.store, int32(x))
		return
	}
	sign := 1
	if dx < 0 {
		sign, dx = -1, -dx
	}
	whole := dx << p.bits / dy
	rest := dx<<p.bits - whole*dy
	whole *= sign
	acc := -dy
	store := p.store
	for range n {
		store = append(store, int32(x))
		x += whole
		if acc += rest; acc >= 0 {
			acc -= dy
			x += sign
		}
	}
	p.store = store
}

// mulDiv is a*b/c rounded to nearest, half away from zero; b and c are positive.
func mulDiv(a, b, c int) int {
	v := a * b
	if v < 0 {
		return -((-v + c/2) / c)
	}
	return (v + c/2) / c
}
