package raster

import (
	"slices"

	"smokeproof/harness/glyph"
)

// profile is a stretch of contour that only climbs or only falls, as its
// crossings with the scan lines that it meets. They stand in the profiler's
// store, that of the lowest line first.
type profile struct {
	up               bool
	overTop, overLow bool // it reaches half a pixel or more past its highest, its lowest line
	mode             glyph.Dropout
	start, end       int32 // lowest and highest scan line
	first            int32 // in store
	next             int32 // the profile after it in its contour
	link             int32 // the next profile that starts on the same line
}

// profiler cuts a path into profiles. The path has been scaled so that pixel
// centres lie on whole multiples of one; Y may stand for either axis.
type profiler struct {
	cutter
	low, high int           // the scan lines to meet, moved by bias as points are
	mode      glyph.Dropout // of the contours to come

	list  []profile
	store []int32 // crossings of all profiles
	full  bool    // the pool has run out
	whole bool    // this band cannot be halved: the pool is not asked

	at    point
	head  int  // the contour's first profile
	open  bool // a profile is being made: the one in list past its end,
	fresh bool // which has met no scan line yet
	joint bool // or has just ended on one, which the next piece must not meet again
}

// precision is how finely crossings are told, in units of 1/one px.
type precision struct {
	bits      uint
	one, half int
	flat      int // the height below which a piece of curve is taken as straight
	jitter    int // what a span may exceed a pixel by and still be one pixel
}

// FreeType's two precisions (ftraster.c). A piece of a curve that only climbs
// strays from its chord by at most a quarter of its height: 1/8 px, and 1/64 px.
var (
	coarse = precision{bits: 6, one: 1 << 6, half: 1 << 5, flat: 32, jitter: 2}
	fine   = precision{bits: 12, one: 1 << 12, half: 1 << 11, flat: 256, jitter: 30}
)

func (p *precision) floor(v int) int { return v &^ (p.one - 1) }
func (p *precision) ceil(v int) int  { return (v + p.one - 1) &^ (p.one - 1) }

// overshoot says that y lies half a pixel or more below the next scan line, and
// above the last.
func (p *precision) overshoot(y int) (low, top bool) {
	return p.ceil(y)-y >= p.half, y-p.floor(y) >= p.half
}

// cut meets the scan lines from low to high. modes are those of the outline's contours.
// It is false where the pool ran out.
func (p *profiler) cut(o *path, modes []glyph.Dropout, low, high int) bool {
	p.low, p.high = low*p.one+bias, high*p.one+bias
	p.list, p.store, p.full, p.whole = p.list[:0], p.store[:0], false, low == high
	contour := 0
	points := o.points
	for _, v := range o.verbs {
		if v == moveTo {
			if contour < len(modes) {
				p.ask(modes[contour])
			}
			contour++
			p.at, p.head, p.open, p.joint = points[0], len(p.list), false, false
			points = points[1:]
			continue
		}
		n := p.follow(v, points)
		points = points[n:]
		if p.full {
			return false
		}
	}
	return p.turnsFit()
}

// follow takes a step of a path and says how many points it had.
func (p *profiler) follow(v verb, q []point) (points int) {
	switch v {
	case lineTo:
		p.line(q[0])
		return 1
	case conicTo:
		p.conic(p.at, q[0], q[1])
		p.at = q[1]
		return 2
	case cubicTo:
		p.cubic(cubic{p.at.biased(), q[0].biased(), q[1].biased(), q[2].biased()})
		p.at = q[2]
		return 3
	}
	p.close(q[0])
	return 1
}

// ask sets the mode of the contours to come.
func (p *profiler) ask(mode glyph.Dropout) { p.mode = asked(p.mode, mode) }

// asked is the mode after a contour asks for one. FreeType tells 2 from the others that
// mend nothing: where a contour asks for 3, 6 or 7, spans are still bounded by jitter.
func asked(now, mode glyph.Dropout) glyph.Dropout {
	switch mode {
	case glyph.DropoutKeep:
		return now
	case 2:
		return glyph.DropoutOff
	}
	return mode
}

// askedLast is the mode after all contours have asked.
func askedLast(now glyph.Dropout, modes []glyph.Dropout) glyph.Dropout {
	for _, m := range modes {
		now = asked(now, m)
	}
	return now
}

// turn opens a profile, or another one where the contour changes direction, at y.
func (p *profiler) turn(up bool, y int) {
	if p.open && p.opened().up == up {
		return
	}
	if p.open {
		p.finish(y)
	}
	low, top := p.overshoot(y)
	p.open, p.fresh, p.joint = true, true, false
	if len(p.list) == cap(p.list) {
		p.list = slices.Grow(p.list, 1)
	}
	c := p.opened()
	c.up, c.overLow, c.overTop, c.first, c.mode = up, up && low, !up && top, int32(len(p.store)), p.mode
}

// opened is the open profile. It is made where it will stand: processors stall on
// reading at once what was written piece by piece.
func (p *profiler) opened() *profile { return &p.list[:len(p.list)+1][len(p.list)] }

// finish closes the open profile at y; one that met no scan line is dropped.
func (p *profiler) finish(y int) {
	p.open = false
	c := p.opened()
	n := int32(len(p.store)) - c.first
	if n <= 0 {
		return
	}
	low, top := p.overshoot(y)
	if c.up {
		c.overTop = top
		c.end = c.start + n - 1
	} else {
		c.overLow = low
		slices.Reverse(p.store[c.first:]) // it was met upside down
		c.start, c.end = 1-c.start-n, -c.start
	}
	c.next = int32(len(p.list)) + 1
	p.list = p.list[:c.next]
	p.full = p.full || p.left() <= 0
}

// close ends a contour. Where it ends in the direction in which it began, and on
// a scan line, that line was met twice.
func (p *profiler) close(start point) {
	p.line(start)
	if !p.open {
		return
	}
	y, c := p.at.y(), p.opened()
	if y == p.floor(y) && y >= p.low && y <= p.high && p.head < len(p.list) && p.list[p.head].up == c.up &&
		len(p.store) > int(c.first) {
		p.store = p.store[:len(p.store)-1]
	}
	n := len(p.list)
	p.finish(y)
	// Only a last profile that meets a scan line links back to the first: so does
	// FreeType, and its stub test hangs on it.
	if len(p.list) > n {
		p.list[n].next = int32(p.head)
	}
}
