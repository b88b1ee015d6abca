package raster

import "smokeproof/harness/glyph"

// tracer follows contours and puts their crossings with rows, or with columns, on a
// sheet. A contour is stretches that climb and that fall. Where it goes on through a scan line it
// meets it once; where it turns on one, twice.
type tracer struct {
	cutter
	sheet     *sheet
	columns   bool
	mode      glyph.Dropout
	mends     bool // some contour has dropout control
	stubs     bool // tips of strokes may end between two centres
	crossings []int32
	cost      cost

	up, open bool    // the way of a stretch, if there is one
	met      bool    // it has met a scan line
	held     bool    // and ends on one: the next piece may meet that anew, so last waits
	last     meeting // of the stretch
	head     int     // the way of the first stretch that met a line

	tip    bool    // the stretch before ended in tipEnd
	blunt  bool    // it went on for half a pixel or more
	tipEnd meeting // see touch
	spared meeting
}

// cost is what contours take of FreeType's pool.
type cost struct{ crossings, stretches int }

func (c *cost) add(d cost) {
	c.crossings, c.stretches = c.crossings+d.crossings, c.stretches+d.stretches
}

func (c cost) less(d cost) cost { return cost{c.crossings - d.crossings, c.stretches - d.stretches} }

// meeting is the crossing x with a scan line.
type meeting struct{ x, line int }

const (
	climbing = 1
	falling  = -1
)

// way is the step from one line of the stretch to the next.
func (t *tracer) way() int {
	if t.up {
		return climbing
	}
	return falling
}

// start readies for an outline.
func (t *tracer) start(p precision, columns bool, mode glyph.Dropout) {
	t.precision, t.columns, t.mode = p, columns, mode
	t.cost, t.mends = cost{}, false
}

// begin readies for a contour, and says whether tips of its strokes may end between centres.
func (t *tracer) begin() bool {
	t.open, t.held, t.tip, t.head = false, false, false, 0
	t.stubs, t.spared = t.mode&3 != 0, meeting{line: -1}
	t.mends = t.mends || t.mode != glyph.DropoutOff
	return t.stubs
}

// ask sets the mode of the contours to come.
func (t *tracer) ask(mode glyph.Dropout) { t.mode = asked(t.mode, mode) }

// fits says that FreeType's pool holds it all.
func (t *tracer) fits() bool {
	return t.cost.crossings+(t.cost.stretches+2)*(profileWords+2) < poolWords-2
}

// turn begins a stretch at y where the contour changes direction.
func (t *tracer) turn(up bool, y int) {
	if t.open && t.up == up {
		return
	}
	if t.open {
		t.end(y)
	}
	t.open, t.up, t.met = true, up, false
	t.cost.stretches++
}

// end ends a stretch at y.
func (t *tracer) end(y int) {
	t.tip = false
	if !t.met {
		return
	}
	if t.held {
		t.give([]int32{int32(t.last.x)}, t.last.line)
		t.held = false
	}
	if t.head == 0 {
		t.head = t.way()
	}
	t.tip, t.tipEnd = t.stubs && t.last != t.spared, t.last
	low, top := t.overshoot(y)
	t.blunt = t.up && top || !t.up && low
}

// close ends a contour at its start. Where it ends in the direction in which it began,
// and on a scan line, that line was met twice.
func (t *tracer) close(at, start point) {
	t.line(at, start)
	if !t.open {
		return
	}
	if t.held && t.head == t.way() {
		t.held = false
	}
	t.end(start.y())
}

// take takes the crossings of a piece of contour from line on, the last of which may be its end.
func (t *tracer) take(xs []int32, line int, ends bool) {
	n := len(xs)
	t.note(meeting{int(xs[n-1]), line + (n-1)*t.way()}, n, ends)
	if ends {
		xs = xs[:n-1]
	}
	t.give(xs, line)
}

// straight takes n crossings at x.
func (t *tracer) straight(x, line, n int, ends bool) {
	t.note(meeting{x, line + (n-1)*t.way()}, n, ends)
	if ends {
		n--
	}
	if n == 0 {
		return
	}
	if t.tip {
		t.touch(meeting{x, line})
	}
	low, high := line, line+n-1
	if !t.up {
		low, high = line-n+1, line
	}
	if t.columns {
		t.sheet.bar(x, low, high)
	} else {
		t.sheet.stem(x, low, high, t.up)
	}
}

// note notes the last of n crossings.
func (t *tracer) note(last meeting, n int, held bool) {
	t.cost.crossings += n
	t.met, t.held, t.last = true, held, last
}

// give puts crossings on the sheet.
func (t *tracer) give(xs []int32, line int) {
	if len(xs) == 0 {
		return
	}
	if t.tip {
		t.touch(meeting{int(xs[0]), line})
	}
	if t.columns {
		t.sheet.column(xs, line, t.way())
	} else {
		t.sheet.row(xs, line, t.way())
	}
}

// touch looks at the first crossing of a stretch after a turn. Where it lies in one gap with
// the last before it, both are the tip of a stroke, which where stubs are left out is not
// mended (see stub): the gap counts them as one. If no other edge crosses it, and the
// pixels beside it are off, the two are a span, or each is one with an edge elsewhere, and
// neither shows.
func (t *tracer) touch(m meeting) {
	t.tip = false
	e := t.tipEnd
	if m.line == e.line && t.ceil(m.x) == t.ceil(e.x) && !(t.blunt && abs(m.x-e.x) >= t.half) {
		t.sheet.spare(m.x, m.line, t.columns)
		t.spared = m // of three edges only two are counted as one
	}
}

// lines are the scan lines that a piece meets which climbs from ay to by.
func (t *tracer) lines(ay, by int) (from, n int) {
	from = t.ceil(ay)
	return from, (t.floor(by)-from)>>(t.bits&31) + 1
}

// lineAt is the number of the scan line at y, which stands upside down where the stretch falls.
func (t *tracer) lineAt(y int) int {
	return (y - bias) >> (t.bits & 31) * t.way()
}

// room is for n crossings.
func (t *tracer) room(n int) []int32 {
	if n > len(t.crossings) {
		t.crossings = resize(t.crossings, 2*n)
	}
	return t.crossings[:n]
}

// line traces a line from a to b.
func (t *tracer) line(a, b point) {
	ay, by := a.y(), b.y()
	if ay == by {
		return
	}
	t.turn(ay < by, ay)
	if !t.up {
		ay, by = 2*bias-ay, 2*bias-by
	}
	from, n := t.lines(ay, by)
	if n <= 0 {
		return
	}
	x, dx, dy := a.x()-bias, b.x()-a.x(), by-ay
	if dx == 0 {
		t.straight(x, t.lineAt(from), n, t.floor(by) == by)
		return
	}
	if from != ay {
		x += mulDiv(dx, from-ay, dy)
	}
	xs := t.room(n)
	t.meetLine(xs, x, dx, dy)
	t.take(xs, t.lineAt(from), t.floor(by) == by)
}

// conic traces a quadratic curve from a to b.
func (t *tracer) conic(a, c, b point) {
	ay, cy, by := a.y(), c.y(), b.y()
	switch {
	case cy < min(ay, by) || cy > max(ay, by):
		first, m, second := halves(a, c, b)
		t.conic(a, first, m)
		t.conic(m, second, b)
		return
	case ay == by:
		return
	}
	t.turn(ay < by, ay)
	if !t.up {
		a, c, b = a.upsideDown(), c.upsideDown(), b.upsideDown()
		ay, by = a.y(), b.y()
	}
	from, n := t.lines(ay, by)
	if n <= 0 {
		return
	}
	xs := t.room(n)
	if rest := t.first(xs, a.x(), from == ay); len(rest) > 0 {
		t.meetConic(rest, a, c, b, from+(n-len(rest))*t.one)
	}
	t.take(xs, t.lineAt(from), t.floor(by) == by)
}

// first gives the crossing of a curve that begins at x on a scan line, and has room for the rest.
func (t *tracer) first(xs []int32, x int, on bool) []int32 {
	if on {
		xs[0] = int32(x - bias)
		return xs[1:]
	}
	return xs
}

// cubic traces a cubic curve.
func (t *tracer) cubic(q cubic) {
	switch lo, hi := min(q.a.y, q.b.y), max(q.a.y, q.b.y); {
	case min(q.c1.y, q.c2.y) < lo || max(q.c1.y, q.c2.y) > hi:
		first, second := q.halves()
		t.cubic(first)
		t.cubic(second)
		return
	case lo == hi:
		return
	}
	t.turn(q.a.y < q.b.y, q.a.y)
	if !t.up {
		q = q.upsideDown()
	}
	from, n := t.lines(q.a.y, q.b.y)
	if n <= 0 {
		return
	}
	xs := t.room(n)
	if rest := t.first(xs, q.a.x, from == q.a.y); len(rest) > 0 {
		t.meetCubic(rest, q, from+(n-len(rest))*t.one)
	}
	t.take(xs, t.lineAt(from), t.floor(q.b.y) == q.b.y)
}
