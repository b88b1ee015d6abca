package raster

// cutter meets scan lines with lines and curves that climb.
type cutter struct {
	precision
	laterCubics laterCubics
}

// laterCubics is a stack of second halves still to be met; each begins where the piece
// before it ends. A curve of 2^27 units is flat long before the stack is full.
type laterCubics [32]struct{ c1, c2, b vec }

// meetLine gives the crossings of a line of slope dx/dy, the first at x, a scan line apart and
// without drift.
func (p *cutter) meetLine(crossings []int32, x, dx, dy int) {
	crossings[0] = int32(x)
	if len(crossings) == 1 {
		return
	}
	sign := 1
	if dx < 0 {
		sign, dx = -1, -dx
	}
	step := dx << (p.bits & 31)
	whole := 0
	if step >= dy {
		whole = step / dy
	}
	rest := step - whole*dy
	whole *= sign
	acc := -dy
	for i := range crossings {
		crossings[i] = int32(x)
		x += whole
		if acc += rest; acc >= 0 {
			acc -= dy
			x += sign
		}
	}
}

// meetConic gives the crossings of a quadratic curve from scan line e on. Where there are many,
// it halves the curve for all of them.
func (p *cutter) meetConic(crossings []int32, a, c, b point, e int) {
	const many = 4
	for len(crossings) >= many {
		first, m, second := halves(a, c, b)
		n := 0
		if m.y() >= e {
			n = min((m.y()-e)>>(p.bits&31)+1, len(crossings))
			p.meetConic(crossings[:n], a, first, m, e)
		}
		crossings = crossings[n:]
		e += n * p.one
		a, c = m, second
	}
	for k := range crossings {
		crossings[k] = meetOne(a, c, b, e, p.flat)
		e += p.one
	}
}

// meetOne goes down in a curve until the piece that meets a scan line is flat, or ends on it.
// Halves are chosen without branches, and by four times the middle: a processor that guesses wrong,
// or waits for the middle, loses more than halving costs.
func meetOne(a, c, b point, e, flat int) int32 {
	low := int64(flat)<<32 - 1<<31                 // differences in X, which are less, do not count
	last, four := point(e)<<32|right, point(e)<<34 // the last point on the line, and four times the first
	for int64(b-a) >= low && b > last {
		ac, cb := a+c, c+b
		sum := ac + cb
		m, first, second := sum.quarter(), ac.half(), cb.half()
		c = first
		if sum < four {
			c = second
		}
		if sum < four {
			a = m
		}
		if sum >= four {
			b = m
		}
	}
	x := b.x()
	if by := b.y(); by > e {
		x = a.x() + divide((x-a.x())*(e-a.y()), by-a.y())
	}
	return int32(x - bias)
}

// divide is a/b, towards zero. The numbers are whole and less than 2^53, so floating point, which
// takes half the time, comes to the same: a quotient below n falls short of it by 1/b at least.
func divide(a, b int) int { return int(float64(a) / float64(b)) }

// meetCubic gives the crossings of a cubic curve from scan line e on.
func (p *cutter) meetCubic(crossings []int32, q cubic, e int) {
	rest, n, flat := &p.laterCubics, 0, p.flat
	for k := range crossings {
		for q.b.y < e {
			n--
			h := &rest[n&31]
			q.a, q.c1, q.c2, q.b = q.b, h.c1, h.c2, h.b
		}
		for q.b.y > e && q.b.y-q.a.y >= flat {
			acx, acy := q.a.x+q.c1.x, q.a.y+q.c1.y
			ccx, ccy := q.c1.x+q.c2.x, q.c1.y+q.c2.y
			cbx, cby := q.c2.x+q.b.x, q.c2.y+q.b.y
			firstx, firsty, secondx, secondy := acx+ccx, acy+ccy, ccx+cbx, ccy+cby
			m := vec{(firstx + secondx) >> 3, (firsty + secondy) >> 3}
			if m.y < e {
				q.a, q.c1, q.c2 = m, vec{secondx >> 2, secondy >> 2}, vec{cbx >> 1, cby >> 1}
				continue
			}
			h := &rest[n&31]
			h.c1, h.c2, h.b = vec{secondx >> 2, secondy >> 2}, vec{cbx >> 1, cby >> 1}, q.b
			n++
			q.c1, q.c2, q.b = vec{acx >> 1, acy >> 1}, vec{firstx >> 2, firsty >> 2}, m
		}
		x := q.b.x
		if q.b.y > e {
			x = q.a.x + divide((q.b.x-q.a.x)*(e-q.a.y), q.b.y-q.a.y)
		}
		crossings[k] = int32(x - bias)
		e += p.one
	}
}
