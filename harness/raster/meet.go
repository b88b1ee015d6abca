package raster

// cutter meets scan lines with lines and curves that climb.
type cutter struct {
	precision
	later       later
	laterCubics laterCubics
}

// later is a stack of second halves still to be met; each begins where the piece
// before it ends. A curve of 2^27 units is flat long before the stack is full.
type (
	later       [32]struct{ c, b point }
	laterCubics [32]struct{ c1, c2, b vec }
)

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
	rest, n, flat, one := &p.later, 0, p.flat, point(p.one)<<32
	line := point(e) << 32 // without an X: below every point of the scan line
	for k := range crossings {
		for b.y() < line.y() {
			n--
			h := &rest[n&31]
			a, c, b = b, h.c, h.b
		}
		for b.y()-a.y() >= flat && b.y() > line.y() {
			ac, cb := a+c, c+b
			m := (ac + cb).quarter()
			if m < line {
				a, c = m, cb.half()
				continue
			}
			h := &rest[n&31]
			n++
			h.c, h.b = cb.half(), b
			c, b = ac.half(), m
		}
		x := b.x()
		if rise := line.y() - a.y(); b.y() > line.y() {
			x = a.x() + (x-a.x())*rise/(b.y()-a.y())
		}
		crossings[k] = int32(x - bias)
		line += one
	}
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
