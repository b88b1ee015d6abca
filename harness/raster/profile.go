package raster

// profile is a stretch of contour that only climbs or only falls, as the list
// of its crossings with the scan lines that it meets, lowest line first.
type profile struct {
	up                         bool
	start                      int // lowest scan line
	crossings                  []int
	next                       int // the profile after it in its contour
	topOvershoot, lowOvershoot bool
}

func (p *profile) end() int { return p.start + len(p.crossings) - 1 }

// profiler cuts contours into profiles. Its points have been scaled so that
// pixel centres lie on whole multiples of one; Y may stand for either axis.
type profiler struct {
	one, half, step int // precision: units a pixel, half of it, and the height below which a curve is taken as straight
	lines           int // scan lines 0 to lines-1

	list  []profile
	store []int // crossings of all profiles

	at, start vec
	first     int // first profile of this contour
	open      bool
	cur       profile
	from      int // where cur's crossings begin in store
	fresh     bool
	joint     bool
	down      bool // direction of the open profile
}

func (p *profiler) reset(lines int, high bool) {
	p.one, p.step = 64, 32
	if high {
		p.one, p.step = 4096, 256
	}
	p.half = p.one / 2
	p.lines = lines
	p.list, p.store = p.list[:0], p.store[:0]
}

func (p *profiler) floor(v int) int { return v &^ (p.one - 1) }
func (p *profiler) ceil(v int) int  { return (v + p.one - 1) &^ (p.one - 1) }

func (p *profiler) moveTo(q vec) {
	p.at, p.start = q, q
	p.first = len(p.list)
	p.open, p.joint = false, false
}

func (p *profiler) lineTo(q vec) {
	if q.y != p.at.y {
		p.turn(q.y < p.at.y, p.at.y)
		if p.down {
			p.line(vec{p.at.x, -p.at.y}, vec{q.x, -q.y})
		} else {
			p.line(p.at, q)
		}
	}
	p.at = q
}

func (p *profiler) conicTo(c, to vec) {
	var arc [5 + 2*32]vec // halving ends long before 32 levels
	arc[0], arc[1], arc[2] = to, c, p.at
	top := 0
	for top >= 0 {
		y1, y2, y3 := arc[top+2].y, arc[top+1].y, arc[top].y
		switch {
		case (y2 < min(y1, y3) || y2 > max(y1, y3)) && top+4 < len(arc):
			splitConic((*[5]vec)(arc[top : top+5]))
			top += 2
			continue
		case y1 != y3:
			p.turn(y3 < y1, y1)
			p.curve(arc[top : top+3])
		}
		top -= 2
	}
	p.at = to
}

func (p *profiler) cubicTo(c1, c2, to vec) {
	var arc [7 + 3*32]vec
	arc[0], arc[1], arc[2], arc[3] = to, c2, c1, p.at
	top := 0
	for top >= 0 {
		y1, y2, y3, y4 := arc[top+3].y, arc[top+2].y, arc[top+1].y, arc[top].y
		lo, hi := min(y1, y4), max(y1, y4)
		switch {
		case (min(y2, y3) < lo || max(y2, y3) > hi) && top+6 < len(arc):
			splitCubic((*[7]vec)(arc[top : top+7]))
			top += 3
			continue
		case y1 != y4:
			p.turn(y4 < y1, y1)
			p.curve(arc[top : top+4])
		}
		top -= 3
	}
	p.at = to
}

// turn opens a profile, or another one where the contour changes direction, at y.
func (p *profiler) turn(down bool, y int) {
	if p.open && p.down == down {
		return
	}
	if p.open {
		p.finish(y)
	}
	low, high := p.overshoot(y)
	p.open, p.down, p.fresh, p.joint = true, down, true, false
	p.from = len(p.store)
	p.cur = profile{up: !down, lowOvershoot: !down && low, topOvershoot: down && high}
}

// overshoot says that y lies half a pixel or more below the next scan line, and
// above the last.
func (p *profiler) overshoot(y int) (low, high bool) {
	return p.ceil(y)-y >= p.half, y-p.floor(y) >= p.half
}

// finish closes the open profile at y; one that meets no scan line is dropped.
func (p *profiler) finish(y int) {
	p.open = false
	p.cur.crossings = p.store[p.from:]
	if len(p.cur.crossings) == 0 {
		return
	}
	low, high := p.overshoot(y)
	if p.down {
		p.cur.lowOvershoot = p.cur.lowOvershoot || low
	} else {
		p.cur.topOvershoot = p.cur.topOvershoot || high
	}
	p.cur.next = len(p.list) + 1
	p.list = append(p.list, p.cur)
}

// closePath ends a contour. Where it ends in the direction in which it began,
// and on a scan line, that line was met twice.
func (p *profiler) closePath() {
	p.lineTo(p.start)
	if p.open {
		y := p.at.y
		if y&(p.one-1) == 0 && y >= 0 && y < p.lines*p.one && p.first < len(p.list) &&
			p.list[p.first].up != p.down && len(p.store) > p.from {
			p.store = p.store[:len(p.store)-1]
		}
		n := len(p.list)
		p.finish(y)
		// Only a last profile that meets a scan line links back to the first: so
		// does FreeType, and its stub test hangs on it.
		if len(p.list) > n {
			p.list[n].next = p.first
		}
	}
}

// begin starts the open profile's crossings at scan line y, in units.
func (p *profiler) begin(y int) {
	if p.fresh {
		p.cur.start = y / p.one
		p.fresh = false
	}
}

// bounds are the first and last scan line, mirrored for a falling profile.
func (p *profiler) bounds() (lo, hi int) {
	if p.down {
		return -(p.lines - 1) * p.one, 0
	}
	return 0, (p.lines - 1) * p.one
}

// line adds the crossings of a climbing line from a to b (mirrored when the
// profile falls).
func (p *profiler) line(a, b vec) {
	lo, hi := p.bounds()
	dx, dy := b.x-a.x, b.y-a.y
	if dy <= 0 || b.y < lo || a.y > hi {
		return
	}
	x, e1, f1 := a.x, p.floor(a.y)/p.one, a.y&(p.one-1)
	if a.y < lo {
		x += mulDiv(dx, lo-a.y, dy)
		e1, f1 = lo/p.one, 0
	}
	e2, f2 := p.floor(b.y)/p.one, b.y&(p.one-1)
	if b.y > hi {
		e2, f2 = hi/p.one, 0
	}
	switch {
	case f1 > 0 && e1 == e2:
		return
	case f1 > 0:
		x += mulDiv(dx, p.one-f1, dy)
		e1++
	case p.joint:
		p.store = p.store[:len(p.store)-1]
	}
	p.joint = f2 == 0
	p.begin(e1 * p.one)
	p.run(x, dx, dy, e2-e1+1)
}

// run adds n crossings a scan line apart, in whole units without drift.
func (p *profiler) run(x, dx, dy, n int) {
	sign := 1
	if dx < 0 {
		sign, dx = -1, -dx
	}
	whole, rest := p.one*dx/dy, p.one*dx%dy
	acc := -dy
	for range n {
		p.store = append(p.store, x)
		x += sign * whole
		if acc += rest; acc >= 0 {
			acc -= dy
			x += sign
		}
	}
}

// curve adds the crossings of a curve that only climbs or only falls. It halves
// the curve until a piece is lower than step, and takes that as straight.
func (p *profiler) curve(backwards []vec) {
	degree := len(backwards) - 1
	var arc [7 + 3*32]vec
	copy(arc[:], backwards)
	if p.down {
		for i := range backwards {
			arc[i].y = -arc[i].y
		}
	}
	lo, hi := p.bounds()
	y1, y2 := arc[degree].y, arc[0].y
	if y2 < lo || y1 > hi {
		return
	}
	e2 := min(p.floor(y2), hi)
	e := lo
	if y1 >= lo {
		e = p.ceil(y1)
		if y1 == e && p.joint {
			p.store = p.store[:len(p.store)-1]
		}
	}
	p.joint = false
	if e > e2 {
		return
	}
	p.begin(e)
	p.climb(arc[:], degree, e, e2, y1 >= lo && y1 == p.ceil(y1))
}

func (p *profiler) climb(arc []vec, degree, e, e2 int, onLine bool) {
	if onLine {
		p.store = append(p.store, arc[degree].x)
		e += p.one
	}
	for top := 0; top >= 0 && e <= e2; {
		p.joint = false
		y1, y2 := arc[top+degree].y, arc[top].y
		switch {
		case y2 > e && y2-y1 >= p.step && top+2*degree < len(arc):
			if degree == 2 {
				splitConic((*[5]vec)(arc[top : top+5]))
			} else {
				splitCubic((*[7]vec)(arc[top : top+7]))
			}
			top += degree
		case y2 > e:
			a, b := arc[top+degree], arc[top]
			p.store = append(p.store, a.x+(b.x-a.x)*(e-y1)/(y2-y1))
			top -= degree
			e += p.one
		default:
			if y2 == e {
				p.joint = true
				p.store = append(p.store, arc[top].x)
				e += p.one
			}
			top -= degree
		}
	}
}

// mulDiv is a*b/c rounded to nearest, half away from zero; c is positive.
func mulDiv(a, b, c int) int {
	v := a * b
	if v < 0 {
		return -((-v + c/2) / c)
	}
	return (v + c/2) / c
}
