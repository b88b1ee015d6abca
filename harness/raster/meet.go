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

// meetConic gives the crossings of a quadratic curve from scan line e on.
func (p *cutter) meetConic(crossings []int32, a, c, b point, e int) {
	for k := range crossings {
		a, b := narrow(a, c, b, point(e)<<32, p.flat)
		x, ay, by := b.x(), a.y(), b.y()
		if by > e {
			x = a.x() + (x-a.x())*(e-ay)/(by-ay)
		}
		crossings[k] = int32(x - bias)
		e += p.one
	}
}

// narrow halves a curve until the piece that meets a scan line is flat, or ends on it. It goes
// down from the whole curve for each line, and chooses halves without branches: a processor
// that guesses wrong loses more than halving costs.
func narrow(a, c, b, line point, flat int) (from, to point) {
	low := int64(flat)<<32 - 1<<31 // differences in X, which are less, do not count
	for int64(b-a) >= low && b > line|right {
		ac, cb := a+c, c+b
		m := (ac + cb).quarter()
		beyond := point(int64(m-line) >> 63) // all ones where m lies below the line
		a ^= (a ^ m) & beyond
		b = m ^ (m^b)&beyond
		c = (ac ^ (ac^cb)&beyond).half()
	}
	return a, b
}

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
			x = q.a.x + (q.b.x-q.a.x)*(e-q.a.y)/(q.b.y-q.a.y)
		}
		crossings[k] = int32(x - bias)
		e += p.one
	}
}
