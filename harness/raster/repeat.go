package raster

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Contours repeat: accented letters are drawn from parts, and alphabets share
// letters. Of the contours of a strike two in five have been cut twice before, up to
// a move by whole pixels, which moves crossings by as much. repeats remembers the
// profiles of those it meets a second time.
type repeats struct {
	precision
	byShape []shape // by the low bits of the digest; a new shape takes the place of an old one
	known   []figure

	// What the figures are made of.
	points    []glyph.Point
	profiles  []profile
	crossings []int32
}

// shape is one that was met: the digest, and the place in known or onceSeen.
type shape struct {
	digest uint32 // its high half
	figure int32
}

// figure is a contour that is known: its points from a corner of a pixel, and its
// profiles and crossings from that pixel, by rows and by columns.
type figure struct {
	points  stretch
	near    pixel // see shapeOf
	passes  [2]struct{ profiles, crossings stretch }
	learned int // passes
}

type (
	stretch struct{ from, to int32 }
	pixel   struct{ x, y int }
)

// contour is one of the outline at work: a stretch of the path, or a known figure.
type contour struct {
	verbs, points int // where they begin
	at            pixel
	figure        int32 // its place in known; noFigure
	replay        bool  // else the figure is to be learned
}

const (
	neverSeen = 0 // figure 0 is none
	onceSeen  = -1
	noFigure  = -1
	mostSeen  = 1 << 14 // shapes, 128 KB: what a processor core has at hand
	mostKnown = 1 << 18 // crossings, before all is forgotten
	longest   = 256     // points of a contour worth knowing
)

// shapeOf is what decides the crossings of a contour: its points from the pixel
// corner at or below the first, the pixel of that corner in the bitmap, and their
// digest. Where points lie below the centre of the bitmap's first pixels, near is that
// pixel, too: there points half-way between controls are rounded up, not down.
func shapeOf(ps []glyph.Point, left, bottom int, fine bool) (at, near pixel, digest uint64) {
	x0, y0 := ps[0].X&^63, ps[0].Y&^63
	x, y := ps[0].X, ps[0].Y
	for i := range ps {
		p := &ps[i]
		x, y = min(x, p.X), min(y, p.Y)
		digest = (digest ^ uint64(uint32(p.X-x0))<<32 ^ uint64(uint32(p.Y-y0))<<2 ^ uint64(p.Kind)) * 0x9E3779B97F4A7C15
		digest ^= digest >> 29
	}
	at = pixel{int(x0)>>6 - left, int(y0)>>6 - bottom}
	if !fine && (x < fixed.I(left)+32 || y < fixed.I(bottom)+32) {
		near = pixel{at.x + 2, at.y + 2} // never 0
		digest ^= uint64(near.x)<<16 ^ uint64(near.y)<<40
	}
	return at, near, digest
}

// find says how to go about a contour.
func (r *repeats) find(ps []glyph.Point, left, bottom int) (c contour) {
	c.figure = noFigure
	if len(ps) > longest {
		return c
	}
	at, near, digest := shapeOf(ps, left, bottom, r.bits == fine.bits)
	c.at = at
	s := &r.byShape[digest%mostSeen]
	switch tag := uint32(digest >> 32); {
	case s.digest != tag || s.figure == neverSeen:
		*s = shape{tag, onceSeen}
	case s.figure == onceSeen:
		s.figure, c.figure = int32(len(r.known)), int32(len(r.known))
		r.known = append(r.known, figure{points: r.keep(ps), near: near})
	case r.known[s.figure].learned == 2 && r.same(&r.known[s.figure], ps, near):
		c.figure, c.replay = s.figure, true
	}
	return c
}

// keep copies a contour's points, moved to the pixel of the first.
func (r *repeats) keep(ps []glyph.Point) stretch {
	from := int32(len(r.points))
	x0, y0 := ps[0].X&^63, ps[0].Y&^63
	for _, p := range ps {
		r.points = append(r.points, glyph.Point{X: p.X - x0, Y: p.Y - y0, Kind: p.Kind})
	}
	return stretch{from, int32(len(r.points))}
}

func (r *repeats) same(f *figure, ps []glyph.Point, near pixel) bool {
	known := r.points[f.points.from:f.points.to]
	if len(known) != len(ps) || f.near != near {
		return false
	}
	x0, y0 := ps[0].X&^63, ps[0].Y&^63
	for i, p := range ps {
		if known[i] != (glyph.Point{X: p.X - x0, Y: p.Y - y0, Kind: p.Kind}) {
			return false
		}
	}
	return true
}

// ready forgets all where there is too much of it, or where the precision is another.
func (r *repeats) ready(p precision) {
	if r.precision == p && len(r.crossings) < mostKnown {
		return
	}
	r.precision = p
	r.byShape = resize(r.byShape, mostSeen)
	clear(r.byShape)
	r.known = append(r.known[:0], figure{})
	r.points, r.profiles, r.crossings = r.points[:0], r.profiles[:0], r.crossings[:0]
}

// learn takes over the last contour cut: the profiles from list[from] on.
func (p *profiler) learn(c *contour, pass, from, crossings int) {
	r := &p.repeats
	f := &r.known[c.figure]
	if f.learned != pass {
		return
	}
	across, along := c.place(pass)
	f.learned++
	t := &f.passes[pass]
	t.profiles.from, t.crossings.from = int32(len(r.profiles)), int32(len(r.crossings))
	r.profiles = append(r.profiles, p.list[from:]...)
	for i := range r.profiles[t.profiles.from:] {
		q := &r.profiles[int(t.profiles.from)+i]
		q.start, q.end = q.start-along, q.end-along
		q.first, q.next = q.first-int32(crossings), q.next-int32(from)
	}
	for _, x := range p.store[crossings:] {
		r.crossings = append(r.crossings, x-across<<p.bits)
	}
	t.profiles.to, t.crossings.to = int32(len(r.profiles)), int32(len(r.crossings))
}

// replay adds the profiles of a known contour.
func (p *profiler) replay(c *contour, pass int) {
	r := &p.repeats
	t := &r.known[c.figure].passes[pass]
	across, along := c.place(pass)
	from, crossings := int32(len(p.list)), int32(len(p.store))
	p.list = append(p.list, r.profiles[t.profiles.from:t.profiles.to]...)
	for i := range p.list[from:] {
		q := &p.list[int(from)+i]
		q.start, q.end = q.start+along, q.end+along
		q.first, q.next, q.mode = q.first+crossings, q.next+from, p.mode
	}
	xs := r.crossings[t.crossings.from:t.crossings.to]
	across <<= p.bits
	room := p.more(len(xs))[:len(xs)]
	for i, x := range xs {
		room[i] = x + across
	}
}

// halfFull says that with known contours it is no longer plain that the pool holds
// all: while it is cut, a contour may need more than it keeps, though never half a pool.
func (p *profiler) halfFull() bool { return p.left() < poolWords/2 }

// place is a contour's pixel, across the scan lines of a pass and along them.
func (c *contour) place(pass int) (across, along int32) {
	if pass == 0 {
		return int32(c.at.x), int32(c.at.y)
	}
	return int32(c.at.y), int32(c.at.x)
}
