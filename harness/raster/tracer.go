package raster

import "smokeproof/harness/glyph"

// tracer follows a contour and cuts it into stretches. Where it goes on through a scan line it meets
// that once; where it turns on one, twice. Crossings of curves are found when the contour is whole.
type tracer struct {
	cutter
	columns bool
	mode    glyph.Dropout
	mends   bool // some contour has dropout control
	stubs   bool // tips of strokes may end between two centres
	cost    cost

	list      []stretch
	*meets        // holds the crossings of all stretches, those of one in a row
	from, met int // which of them are this contour's
	bars      []bar
	open      bool // the last stretch is still being made
	up        bool // its way
}

// cost is what contours take of FreeType's pool.
type cost struct{ crossings, stretches int }

func (c *cost) add(d cost) {
	c.crossings, c.stretches = c.crossings+d.crossings, c.stretches+d.stretches
}

func (c cost) less(d cost) cost { return cost{c.crossings - d.crossings, c.stretches - d.stretches} }

// start readies for an outline.
func (t *tracer) start(m *meets, p precision, columns bool, mode glyph.Dropout) {
	t.meets, t.precision, t.columns, t.mode = m, p, columns, mode
	t.from = 0
	if columns {
		t.from = poolWords
	}
	t.cost, t.mends = cost{}, false
}

// ready readies for a contour, and says whether tips of its strokes may end between centres.
func (t *tracer) ready() bool {
	t.list, t.bars = t.list[:0], t.bars[:0]
	t.met, t.open = t.from, false
	t.stubs = t.mode&3 != 0
	t.mends = t.mends || t.mode != glyph.DropoutOff
	return t.stubs
}

// ask sets the mode of the contours to come.
func (t *tracer) ask(mode glyph.Dropout) { t.mode = asked(t.mode, mode) }

// fits says that FreeType's pool holds it all.
func (t *tracer) fits() bool {
	return t.cost.crossings+(t.cost.stretches+2)*(profileWords+2) < poolWords-2
}

// now is the stretch being made.
func (t *tracer) now() *stretch { return &t.list[len(t.list)-1] }

// turn begins a stretch at y where the contour changes direction.
func (t *tracer) turn(up bool, y int) {
	if t.open {
		t.now().end = y
	}
	t.open, t.up = true, up
	line := t.ceil(y)
	if !up {
		line = t.floor(y)
	}
	line = (line - bias) >> (t.bits & 31)
	t.list = append(t.list, stretch{up: up, line: line, from: t.met, to: t.met})
	t.cost.stretches++
}

// close ends a contour at its start. Where it ends in the direction in which it began,
// and on a scan line, that line was met twice.
func (t *tracer) close(start point) {
	if !t.open {
		return
	}
	s, y := t.now(), start.y()
	if s.empty() || t.floor(y) != y {
		return
	}
	first := &t.list[0]
	for k := 0; first.empty(); k++ {
		first = &t.list[k]
	}
	if first.up == s.up {
		s.to--
		t.unmeet(s.to)
	}
}

// lines are the scan lines that a piece meets which climbs from ay to by.
func (t *tracer) lines(ay, by int) (from, n int) {
	from = t.ceil(ay)
	return from, (t.floor(by)-from)>>(t.bits&31) + 1
}

// more makes room for the crossings of a piece with n scan lines. Where it begins on a line, on which
// the piece before ended, that is met anew.
func (t *tracer) more(n int, on bool) (at int) {
	t.cost.crossings += n
	s := t.now()
	if on && !s.empty() {
		t.met--
		t.unmeet(t.met)
	}
	at = t.met
	if at+n > t.from+poolWords {
		at = t.from // they do not fit, and are not drawn
	}
	t.met = at + n
	s.to = t.met
	return at
}

// unmeet takes the last crossing, which stands at at, from a bar. A curve that ended there may still tell where: if
// it is another place, a level piece came between, all along which pixels are on.
func (t *tracer) unmeet(at int) {
	if k := len(t.bars) - 1; k >= 0 && t.bars[k].at+t.bars[k].n > at {
		t.bars[k].n--
	}
}

// line traces a line from a to b.
func (t *tracer) line(a, b point) {
	ay, by := a.y(), b.y()
	if ay == by {
		return
	}
	up := ay < by
	if !t.open || t.up != up {
		t.turn(up, ay)
	}
	if !up {
		ay, by = 2*bias-ay, 2*bias-by
	}
	from, n := t.lines(ay, by)
	if n <= 0 {
		return
	}
	x, dx, dy := a.x()-bias, b.x()-a.x(), by-ay
	if dx == 0 {
		at := t.more(n, from == ay)
		t.xs[at], t.xs[t.met-1] = int32(x), int32(x)
		t.bars = append(t.bars, bar{at, n, x})
		return
	}
	if from != ay {
		x += mulDiv(dx, from-ay, dy)
	}
	at := t.more(n, from == ay)
	t.meetLine(t.xs[at:t.met], x, dx, dy)
}

// conic traces a quadratic curve from a to b.
func (t *tracer) conic(a, c, b point) {
	up := a.y() < b.y()
	var mask point
	if !up {
		mask = ^point(right)
	}
	low, mid, high := a.turned(mask), c.turned(mask), b.turned(mask)
	ay, by := low.y(), high.y()
	switch {
	case uint(mid.y()-ay) > uint(by-ay):
		first, m, second := halves(a, c, b)
		t.conic(a, first, m)
		t.conic(m, second, b)
		return
	case ay == by:
		return
	}
	if !t.open || t.up != up {
		t.turn(up, a.y())
	}
	from, n := t.lines(ay, by)
	if n <= 0 {
		return
	}
	at := t.more(n, from == ay)
	if from == ay {
		t.xs[at] = int32(low.x() - bias)
		from, at, n = from+t.one, at+1, n-1
	}
	if n > arcLines {
		t.split(&t.precision, low, mid, high, from, at, n)
	} else if n > 0 {
		t.arcs = append(t.arcs, arc{low, mid, high, from, int32(at), int32(n)})
	}
}

// cubic traces a cubic curve.
func (t *tracer) cubic(q cubic) {
	switch {
	case !q.oneWay():
		first, second := q.halves()
		t.cubic(first)
		t.cubic(second)
		return
	case q.a.y == q.b.y:
		return
	}
	up := q.a.y < q.b.y
	if !t.open || t.up != up {
		t.turn(up, q.a.y)
	}
	if !up {
		q = q.upsideDown()
	}
	from, n := t.lines(q.a.y, q.b.y)
	if n <= 0 {
		return
	}
	at := t.more(n, from == q.a.y)
	if from == q.a.y {
		t.xs[at] = int32(q.a.x - bias)
		from, at = from+t.one, at+1
	}
	if at < t.met {
		t.meetCubic(t.xs[at:t.met], q, from)
	}
}
