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
	n := (last-from)/p.one + 1
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
		p.cur.start = y / p.one
		p.fresh = false
	}
}

// run adds n crossings a scan line apart, without drift.
func (p *profiler) run(x, dx, dy, n int) {
	sign := 1
	if dx < 0 {
		sign, dx = -1, -dx
	}
	if n == 1 {
		p.store = append(p.store, x)
		return
	}
	whole, rest := p.one*dx/dy, p.one*dx%dy
	whole *= sign
	acc := -dy
	for range n {
		p.store = append(p.store, x)
		x += whole
		if acc += rest; acc >= 0 {
			acc -= dy
			x += sign
		}
	}
}

// conic adds the crossings of a quadratic curve, halved until its pieces only
// climb or only fall.
func (p *profiler) conic(c, to vec) {
	arc := &p.arc
	arc[0], arc[1], arc[2] = to, c, p.at
	p.at = to
	for top := 0; top >= 0 && !p.full; {
		y1, y2, y3 := arc[top+2].y, arc[top+1].y, arc[top].y
		switch {
		case (y2 < min(y1, y3) || y2 > max(y1, y3)) && top+5 <= len(arc):
			splitConic((*[5]vec)(arc[top:]))
			top += 2
			continue
		case y1 != y3:
			p.turn(y1 < y3, y1)
			p.climb(top, 2)
		}
		top -= 2
	}
}

// cubic does the same for a cubic curve.
func (p *profiler) cubic(c1, c2, to vec) {
	arc := &p.arc
	arc[0], arc[1], arc[2], arc[3] = to, c2, c1, p.at
	p.at = to
	for top := 0; top >= 0 && !p.full; {
		y1, y2, y3, y4 := arc[top+3].y, arc[top+2].y, arc[top+1].y, arc[top].y
		switch {
		case (min(y2, y3) < min(y1, y4) || max(y2, y3) > max(y1, y4)) && top+7 <= len(arc):
			splitCubic((*[7]vec)(arc[top:]))
			top += 3
			continue
		case y1 != y4:
			p.turn(y1 < y4, y1)
			p.climb(top, 3)
		}
		top -= 3
	}
}

// climb adds the crossings of the piece of curve at base, which only climbs or
// only falls. It leaves the piece's end as it was, where the next one starts.
func (p *profiler) climb(base, degree int) {
	if p.cur.up {
		p.meet(base, degree, p.low, p.high)
		return
	}
	for i := base; i <= base+degree; i++ {
		p.arc[i].y = -p.arc[i].y
	}
	p.meet(base, degree, -p.high, -p.low)
	p.arc[base].y = -p.arc[base].y
}

func (p *profiler) meet(base, degree, low, high int) {
	arc := &p.arc
	y1, y2 := arc[base+degree].y, arc[base].y
	if y2 < low || y1 > high {
		return
	}
	last, e := min(p.floor(y2), high), low
	if y1 >= low {
		e = p.ceil(y1)
	}
	p.begin(e)
	if y1 == e && y1 >= low {
		p.rejoin()
		p.store = append(p.store, arc[base+degree].x)
		e += p.one
	}
	if last < e {
		return
	}
	if (last-e)/p.one+1 >= p.left() {
		p.full = true
		return
	}
	for top := base; top >= base && e <= last; {
		p.joint = false
		a, b := arc[top+degree], arc[top]
		switch {
		case b.y > e && b.y-a.y >= p.flat && top+2*degree < len(arc):
			if degree == 2 {
				splitConic((*[5]vec)(arc[top:]))
			} else {
				splitCubic((*[7]vec)(arc[top:]))
			}
			top += degree
			continue
		case b.y > e:
			p.store = append(p.store, a.x+(b.x-a.x)*(e-a.y)/(b.y-a.y))
			e += p.one
		case b.y == e:
			p.joint = true
			p.store = append(p.store, b.x)
			e += p.one
		}
		top -= degree
	}
}

// mulDiv is a*b/c rounded to nearest, half away from zero; b and c are positive.
func mulDiv(a, b, c int) int {
	v := a * b
	if v < 0 {
		return -((-v + c/2) / c)
	}
	return (v + c/2) / c
}

// splitConic halves a quadratic that runs from arc[2] to arc[0]: arc[2:5] is
// then its first half.
func splitConic(arc *[5]vec) {
	ax, ay := arc[0].x+arc[1].x, arc[0].y+arc[1].y
	bx, by := arc[1].x+arc[2].x, arc[1].y+arc[2].y
	arc[4] = arc[2]
	arc[3] = vec{bx >> 1, by >> 1}
	arc[2] = vec{(ax + bx) >> 2, (ay + by) >> 2}
	arc[1] = vec{ax >> 1, ay >> 1}
}

// splitCubic halves a cubic that runs from arc[3] to arc[0].
func splitCubic(arc *[7]vec) {
	sum := func(a, b vec) vec { return vec{a.x + b.x, a.y + b.y} }
	a, b, c := sum(arc[0], arc[1]), sum(arc[1], arc[2]), sum(arc[2], arc[3])
	d, e := sum(a, b), sum(b, c)
	f := sum(d, e)
	arc[6] = arc[3]
	arc[5] = vec{c.x >> 1, c.y >> 1}
	arc[4] = vec{e.x >> 2, e.y >> 2}
	arc[3] = vec{f.x >> 3, f.y >> 3}
	arc[2] = vec{d.x >> 2, d.y >> 2}
	arc[1] = vec{a.x >> 1, a.y >> 1}
}
