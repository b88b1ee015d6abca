package raster

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Contours repeat: accented letters are drawn from parts, and alphabets share
// letters. Of the contours of a strike two in five have been met twice before, up to
// a move by whole pixels, which moves crossings by as much. repeats remembers the
// sheets of those it meets a second time.
type repeats struct {
	precision
	byShape []shape // by the low bits of the digest; a new shape takes the place of an old one
	known   []figure

	// What the figures are made of.
	points  []glyph.Point
	tallies []tally

	sheet sheet // of the one that is learned
}

// shape is one that was met: the digest, and the place in known or onceSeen.
type shape struct {
	digest uint32 // its high half
	figure int32
}

// figure is a contour that is known: its points from a corner of a pixel, and its
// sheet, one word wide.
type figure struct {
	points          stretch
	near            pixel // see shapeOf
	stubs           stubs
	at              pixel // of the sheet, from the contour's
	tallies         stretch
	byRow, byColumn cost
}

type (
	stretch struct{ from, to int32 }
	pixel   struct{ x, y int }
	stubs   [2]bool // whether tips may end between centres, by rows and by columns
)

const (
	neverSeen = 0 // figure 0 is none
	onceSeen  = -1
	mostSeen  = 1 << 14 // shapes, 128 KB: what a processor core has at hand
	mostKnown = 1 << 15 // tallies, before all is forgotten
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

// find looks for a contour. There is a figure where it is known, or new and to be learned.
func (r *repeats) find(ps []glyph.Point, left, bottom int, s stubs) (f *figure, at pixel, known bool) {
	if len(ps) > longest {
		return nil, at, false
	}
	at, near, digest := shapeOf(ps, left, bottom, r.bits == fine.bits)
	m := &r.byShape[digest%mostSeen]
	switch tag := uint32(digest >> 32); {
	case m.digest != tag || m.figure == neverSeen:
		*m = shape{tag, onceSeen}
	case m.figure == onceSeen:
		m.figure = int32(len(r.known))
		r.known = append(r.known, figure{points: r.keep(ps), near: near, stubs: s})
		return &r.known[m.figure], at, false
	default:
		if f := &r.known[m.figure]; f.stubs == s && r.same(f, ps, near) {
			return f, at, f.tallies.to > 0
		}
	}
	return nil, at, false
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
	if r.precision == p && len(r.tallies) < mostKnown {
		return
	}
	r.precision = p
	r.byShape = resize(r.byShape, mostSeen)
	clear(r.byShape)
	r.known = append(r.known[:0], figure{})
	r.points, r.tallies = r.points[:0], r.tallies[:0]
}

// open cleans the sheet for a contour to be learned, and tells the pixel of the bitmap
// where it begins: that of its first centre. A contour may be too wide for it, or begin
// so near the centre before that an edge passes that within jitter, outside the sheet.
func (r *repeats) open(ps []glyph.Point, left, bottom int) (at pixel, ok bool) {
	x0, x1, y0, y1 := ps[0].X, ps[0].X, ps[0].Y, ps[0].Y
	for _, p := range ps {
		x0, x1 = min(x0, p.X), max(x1, p.X)
		y0, y1 = min(y0, p.Y), max(y1, p.Y)
	}
	x, y := int(x0+31)>>6, int(y0+31)>>6
	width, height := int(x1+32)>>6-x, int(y1+32)>>6-y
	past := int(x0+32) & 63 // that centre, in 1/64 px
	if width > 63 || past > 0 && past<<(r.bits-6) < r.jitter {
		return at, false
	}
	r.sheet.clean(r.precision, width, height)
	return pixel{x - left, y - bottom}, true
}

// learn keeps the sheet as that of a figure.
func (r *repeats) learn(f *figure, at pixel, byRow, byColumn cost) {
	f.at, f.byRow, f.byColumn = at, byRow, byColumn
	f.tallies.from = int32(len(r.tallies))
	r.tallies = append(r.tallies, r.sheet.tallies...)
	f.tallies.to = int32(len(r.tallies))
}
