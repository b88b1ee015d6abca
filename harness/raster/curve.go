package raster

// Curves are halved until a piece only climbs or only falls, and then, by the
// scan line that is to be met next, until the piece that meets it is flat. Halving
// truncates as in FreeType (ftraster.c, Split_Conic and Split_Cubic).

// conic is a quadratic curve, for areas.
type conic struct{ a, c, b vec } // from a to b

// cubic is a cubic curve; for crossings, moved by bias: its sums of eight coordinates
// have no room in a point.
type cubic struct{ a, c1, c2, b vec } // from a to b

func (q cubic) halves() (first, second cubic) {
	ac, cc, cb := q.a.plus(q.c1), q.c1.plus(q.c2), q.c2.plus(q.b)
	acc, ccb := ac.plus(cc), cc.plus(cb)
	m := acc.plus(ccb).over(3)
	return cubic{q.a, ac.over(1), acc.over(2), m}, cubic{m, ccb.over(2), cb.over(1), q.b}
}

// oneWay says that the curve only climbs or only falls.
func (q cubic) oneWay() bool {
	lo, hi := min(q.a.y, q.b.y), max(q.a.y, q.b.y)
	return min(q.c1.y, q.c2.y) >= lo && max(q.c1.y, q.c2.y) <= hi
}

func (q cubic) upsideDown() cubic {
	return cubic{q.a.upsideDown(), q.c1.upsideDown(), q.c2.upsideDown(), q.b.upsideDown()}
}

func (q cubic) swapped() cubic {
	return cubic{q.a.swapped(), q.c1.swapped(), q.c2.swapped(), q.b.swapped()}
}

func (v vec) swapped() vec      { return vec{v.y, v.x} }
func (v vec) plus(w vec) vec    { return vec{v.x + w.x, v.y + w.y} }
func (v vec) over(bits int) vec { return vec{v.x >> bits, v.y >> bits} }
func (v vec) upsideDown() vec   { return vec{v.x, 2*bias - v.y} }

// halves gives the middle of a quadratic curve from a to b, and the controls of its halves.
func halves(a, c, b point) (first, m, second point) {
	ac, cb := a+c, c+b
	return ac.half(), (ac + cb).quarter(), cb.half()
}

// conic adds the crossings of a quadratic curve from a to b.
func (p *profiler) conic(a, c, b point) {
	ay, cy, by := a.y(), c.y(), b.y()
	switch {
	case cy < min(ay, by) || cy > max(ay, by):
		first, m, second := halves(a, c, b)
		p.conic(a, first, m)
		p.conic(m, second, b)
	case ay == by:
	case ay < by:
		p.turn(true, ay)
		p.climbConic(a, c, b, p.low, p.high)
	default:
		p.turn(false, ay)
		p.climbConic(a.upsideDown(), c.upsideDown(), b.upsideDown(), 2*bias-p.high, 2*bias-p.low)
	}
}

// cubic adds the crossings of a cubic curve.
func (p *profiler) cubic(q cubic) {
	switch {
	case !q.oneWay():
		first, second := q.halves()
		p.cubic(first)
		p.cubic(second)
	case q.a.y == q.b.y:
	case q.a.y < q.b.y:
		p.turn(true, q.a.y)
		p.climbCubic(q, p.low, p.high)
	default:
		p.turn(false, q.a.y)
		p.climbCubic(q.upsideDown(), 2*bias-p.high, 2*bias-p.low)
	}
}

// climb readies the crossings of a curve that climbs from a to b: e is the first
// scan line still to be met and last the last one; there are none where last < e.
func (p *profiler) climb(ax, ay, by, low, high int) (e, last int) {
	if by < low || ay > high {
		return 0, -1
	}
	e, last = low, min(p.floor(by), high)
	if ay >= low {
		e = p.ceil(ay)
	}
	p.begin(e)
	if ay == e {
		p.rejoin()
		p.store = append(p.store, int32(ax-bias))
		e += p.one
	}
	if last >= e && (last-e)>>(p.bits&31)+1 >= p.left() {
		p.full = true
		return 0, -1
	}
	p.joint = last >= e && last == by
	return e, last
}

func (p *profiler) climbConic(a, c, b point, low, high int) {
	if e, last := p.climb(a.x(), a.y(), b.y(), low, high); e <= last {
		p.meetConic(p.more((last-e)>>(p.bits&31)+1), a, c, b, e)
	}
}

func (p *profiler) climbCubic(q cubic, low, high int) {
	if e, last := p.climb(q.a.x, q.a.y, q.b.y, low, high); e <= last {
		p.meetCubic(p.more((last-e)>>(p.bits&31)+1), q, e)
	}
}
