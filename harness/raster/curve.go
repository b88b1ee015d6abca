package raster

// Curves are halved until a piece only climbs or only falls, and then, by the
// scan line that is to be met next, until the piece that meets it is flat. Halving
// truncates as in FreeType (ftraster.c, Split_Conic and Split_Cubic).

type (
	conic struct{ a, c, b vec }      // from a to b
	cubic struct{ a, c1, c2, b vec } // from a to b
)

func (q conic) halves() (first, second conic) {
	ac, cb := q.a.plus(q.c), q.c.plus(q.b)
	m := ac.plus(cb).over(2)
	return conic{q.a, ac.over(1), m}, conic{m, cb.over(1), q.b}
}

func (q cubic) halves() (first, second cubic) {
	ac, cc, cb := q.a.plus(q.c1), q.c1.plus(q.c2), q.c2.plus(q.b)
	acc, ccb := ac.plus(cc), cc.plus(cb)
	m := acc.plus(ccb).over(3)
	return cubic{q.a, ac.over(1), acc.over(2), m}, cubic{m, ccb.over(2), cb.over(1), q.b}
}

func (q conic) upsideDown() conic { return conic{q.a.upsideDown(), q.c.upsideDown(), q.b.upsideDown()} }

func (q cubic) upsideDown() cubic {
	return cubic{q.a.upsideDown(), q.c1.upsideDown(), q.c2.upsideDown(), q.b.upsideDown()}
}

func (v vec) plus(w vec) vec    { return vec{v.x + w.x, v.y + w.y} }
func (v vec) over(bits int) vec { return vec{v.x >> bits, v.y >> bits} }
func (v vec) upsideDown() vec   { return vec{v.x, -v.y} }

// conic adds the crossings of a quadratic curve.
func (p *profiler) conic(q conic) {
	switch lo, hi := min(q.a.y, q.b.y), max(q.a.y, q.b.y); {
	case q.c.y < lo || q.c.y > hi:
		first, second := q.halves()
		p.conic(first)
		p.conic(second)
	case lo == hi:
	case q.a.y < q.b.y:
		p.turn(true, q.a.y)
		p.climbConic(q, p.low, p.high)
	default:
		p.turn(false, q.a.y)
		p.climbConic(q.upsideDown(), -p.high, -p.low)
	}
}

// cubic adds the crossings of a cubic curve.
func (p *profiler) cubic(q cubic) {
	switch lo, hi := min(q.a.y, q.b.y), max(q.a.y, q.b.y); {
	case min(q.c1.y, q.c2.y) < lo || max(q.c1.y, q.c2.y) > hi:
		first, second := q.halves()
		p.cubic(first)
		p.cubic(second)
	case lo == hi:
	case q.a.y < q.b.y:
		p.turn(true, q.a.y)
		p.climbCubic(q, p.low, p.high)
	default:
		p.turn(false, q.a.y)
		p.climbCubic(q.upsideDown(), -p.high, -p.low)
	}
}

// climb readies the crossings of a curve that climbs from a to b: e is the first
// scan line still to be met and last the last one; there are none where last < e.
func (p *profiler) climb(a, b vec, low, high int) (e, last int) {
	if b.y < low || a.y > high {
		return 0, -1
	}
	e, last = low, min(p.floor(b.y), high)
	if a.y >= low {
		e = p.ceil(a.y)
	}
	p.begin(e)
	if a.y == e {
		p.rejoin()
		p.store = append(p.store, int32(a.x))
		e += p.one
	}
	if last >= e && (last-e)>>p.bits+1 >= p.left() {
		p.full = true
		return 0, -1
	}
	return e, last
}

// later is a stack of second halves still to be met; each begins where the piece
// before it ends. A curve of 2^27 units is flat long before the stack is full.
type (
	later       [32]struct{ cx, cy, bx, by int }
	laterCubics [32]struct{ c1, c2, b vec }
)

func (p *profiler) climbConic(q conic, low, high int) {
	e, last := p.climb(q.a, q.b, low, high)
	if e > last {
		return
	}
	rest, n, store, flat := &p.later, 0, p.store, p.flat
	ax, ay, cx, cy, bx, by := q.a.x, q.a.y, q.c.x, q.c.y, q.b.x, q.b.y
	for {
		for by > e && by-ay >= flat {
			ux, uy := ax+cx, ay+cy
			wx, wy := cx+bx, cy+by
			mx, my := (ux+wx)>>2, (uy+wy)>>2
			if my < e {
				ax, ay, cx, cy = mx, my, wx>>1, wy>>1
				continue
			}
			h := &rest[n&31]
			h.cx, h.cy, h.bx, h.by = wx>>1, wy>>1, bx, by
			n++
			cx, cy, bx, by = ux>>1, uy>>1, mx, my
		}
		p.joint = by == e
		if by >= e {
			x := bx
			if by > e {
				x = ax + (bx-ax)*(e-ay)/(by-ay)
			}
			store = append(store, int32(x))
			e += p.one
		}
		if n--; n < 0 || e > last {
			break
		}
		h := &rest[n&31]
		ax, ay, cx, cy, bx, by = bx, by, h.cx, h.cy, h.bx, h.by
	}
	p.store = store
}

func (p *profiler) climbCubic(q cubic, low, high int) {
	e, last := p.climb(q.a, q.b, low, high)
	if e > last {
		return
	}
	rest, n, store, flat := &p.laterCubics, 0, p.store, p.flat
	for {
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
		p.joint = q.b.y == e
		if q.b.y >= e {
			x := q.b.x
			if q.b.y > e {
				x = q.a.x + (q.b.x-q.a.x)*(e-q.a.y)/(q.b.y-q.a.y)
			}
			store = append(store, int32(x))
			e += p.one
		}
		if n--; n < 0 || e > last {
			break
		}
		h := &rest[n&31]
		q.a, q.c1, q.c2, q.b = q.b, h.c1, h.c2, h.b
	}
	p.store = store
}
