package raster

import "smokeproof/harness/glyph"

// Contours recur in a strike: accented letters are drawn from parts. Outlines number those that
// do (glyph.Outline.Recurs), and repeats remembers the sheet of the first with a number. A move by
// whole pixels moves crossings by as much; a number is believed only where all points agree.
type repeats struct {
	precision
	known []figure // by number

	// What the figures are made of.
	points  []glyph.Point
	tallies []tally

	sheet sheet // of the one that is learned
}

// figure is a contour that is known: its points from a corner of a pixel, and its
// sheet, one word wide.
type figure struct {
	points          extent
	rounded         vec // see halfWay
	stubs           stubs
	at              pixel // of the sheet, from the contour's
	tallies         extent
	byRow, byColumn cost
}

type (
	extent struct{ from, to int32 }
	pixel  struct{ x, y int }
	stubs  [2]bool // whether tips may end between centres, by rows and by columns
)

const (
	mostNumbered = 1 << 16 // contours, 7 MB
	mostKnown    = 1 << 16 // tallies, 6 MB, and points, 1 MB: then no more are learned
)

// find looks for a contour by its number. There is a figure where it is known, or to be learned. Its place
// is the pixel, in the bitmap, of the corner at or below its first point.
func (r *repeats) find(number int32, ps []glyph.Point, left, bottom int, s stubs) (f *figure, at pixel, known bool) {
	if number <= 0 || number >= mostNumbered {
		return nil, at, false
	}
	if missing := int(number) + 1 - len(r.known); missing > 0 {
		r.known = append(r.known, make([]figure, missing)...)
	}
	f = &r.known[number]
	at = pixel{int(ps[0].X)>>6 - left, int(ps[0].Y)>>6 - bottom}
	switch {
	case f.points.to > 0:
		if f.stubs == s && f.roundsDown(at) && r.same(f, ps) {
			return f, at, f.tallies.to > 0
		}
	case len(r.tallies) < mostKnown && len(r.points) < mostKnown:
		if fresh := (figure{rounded: halfWay(ps, r.precision), stubs: s}); fresh.roundsDown(at) {
			fresh.points = r.keep(ps)
			*f = fresh
			return f, at, false
		}
	}
	return nil, at, false
}

// halfWay is the least that two neighbouring controls come to along each axis, from the pixel
// of the first point, where the point half-way between them has to be rounded.
func halfWay(ps []glyph.Point, p precision) vec {
	const nowhere = 1 << 30
	least := vec{nowhere, nowhere}
	if p.bits > 6 {
		return least
	}
	x0, y0 := ps[0].X&^63, ps[0].Y&^63
	before := ps[len(ps)-1]
	for _, p := range ps {
		if x, y := int(before.X+p.X-2*x0), int(before.Y+p.Y-2*y0); before.Kind == glyph.Quad && p.Kind == glyph.Quad {
			if x&1 != 0 {
				least.x = min(least.x, x)
			}
			if y&1 != 0 {
				least.y = min(least.y, y)
			}
		}
		before = p
	}
	return least
}

// roundsDown says that where the contour stands every point half-way is rounded down. Points below or
// left of the centre of the bitmap's first pixel are rounded up.
func (f *figure) roundsDown(at pixel) bool {
	return f.rounded.x+2*(at.x<<6-32) >= 0 && f.rounded.y+2*(at.y<<6-32) >= 0
}

// keep copies a contour's points, moved to the pixel of the first.
func (r *repeats) keep(ps []glyph.Point) extent {
	from := int32(len(r.points))
	x0, y0 := ps[0].X&^63, ps[0].Y&^63
	for _, p := range ps {
		r.points = append(r.points, glyph.Point{X: p.X - x0, Y: p.Y - y0, Kind: p.Kind})
	}
	return extent{from, int32(len(r.points))}
}

func (r *repeats) same(f *figure, ps []glyph.Point) bool {
	known := r.points[f.points.from:f.points.to]
	if len(known) != len(ps) {
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

// ready forgets all where the precision is another.
func (r *repeats) ready(p precision) {
	if r.precision != p {
		r.precision = p
		r.forget()
	}
}

func (r *repeats) forget() {
	clear(r.known)
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
