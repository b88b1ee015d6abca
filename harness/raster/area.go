package raster

import (
	"fmt"

	"smokeproof/harness/glyph"
)

// subpixel is the unit of areas: 1/256 px. fullArea is a pixel that lies wholly
// inside, twice its area in square units.
const (
	subpixelBits = 8
	subpixel     = 1 << subpixelBits
	fullArea     = 2 * subpixel * subpixel
)

// areas tells how much of each pixel an outline covers, row by row. What several
// contours cover, or one that crosses itself, counts once: a point is inside where
// the winding number is not zero.
type areas struct {
	path  path
	at    vec
	width int

	pieces   []piece
	edges    int32
	contours int32
	starts   []int32 // by contour, its first edge
	first    []int32 // by row from the bottom, its first piece, or -1
	row      []piece // those of the row of the moment

	joined bool // rows must go through union
	union  union
	seen   []int32 // by contour: tangled has met it
	marks  []mark

	cover []int32 // by column: the height that edges cross here
	part  []int32 // and the doubled area right of them inside the pixel
}

// piece is a part of an edge inside one row, from low to high; up tells whether
// its contour climbs or falls there.
type piece struct {
	low, high vec
	up, level bool
	edge      int32
	contour   int32
	next      int32 // of the same row, or -1
}

// outline reads an outline for a bitmap's place.
func (a *areas) outline(o *glyph.Outline, b *glyph.Bitmap) error {
	if err := a.path.of(o, subpixelBits-6, vec{-b.Left << subpixelBits, -b.Bottom << subpixelBits}); err != nil {
		return err
	}
	a.width = b.Width
	a.pieces, a.starts, a.edges, a.contours = a.pieces[:0], a.starts[:0], 0, 0
	a.first = resize(a.first, b.Height)
	for i := range a.first {
		a.first[i] = -1
	}
	a.cover, a.part = resize(a.cover, b.Width), resize(a.part, b.Width)
	q := a.path.points
	for _, v := range a.path.verbs {
		switch v {
		case moveTo:
			a.at, q = q[0].vec(), q[1:]
			a.starts = append(a.starts, a.edges)
			a.contours++
		case lineTo, closeTo:
			a.line(q[0].vec())
			q = q[1:]
		case conicTo:
			a.conic(conic{a.at, q[0].vec(), q[1].vec()})
			q = q[2:]
		case cubicTo:
			a.cubic(cubic{a.at, q[0].vec(), q[1].vec(), q[2].vec()})
			q = q[3:]
		}
	}
	if err := a.bounded(); err != nil {
		return err
	}
	a.joined = a.tangled()
	return nil
}

// maxPieces bounds the work on one row of pixels, which letters cross by the dozen.
const maxPieces = 2048

func (a *areas) bounded() error {
	for y, i := range a.first {
		n := 0
		for ; i >= 0; i = a.pieces[i].next {
			n++
		}
		if n > maxPieces {
			return fmt.Errorf("%w: %d pieces of edge in pixel row %d, the limit is %d", ErrTooLarge, n, y, maxPieces)
		}
	}
	return nil
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// conic flattens a quadratic; a chord strays by at most half a unit, 1/512 px.
func (a *areas) conic(q conic) {
	d := max(abs(q.a.x-2*q.c.x+q.b.x), abs(q.a.y-2*q.c.y+q.b.y))
	steps := 1
	for ; d > 4; d >>= 2 {
		steps <<= 1
	}
	w := steps * steps
	for i := 1; i < steps; i++ {
		u, v := steps-i, i
		a.line(vec{
			(q.a.x*u*u + 2*q.c.x*u*v + q.b.x*v*v + w/2) / w,
			(q.a.y*u*u + 2*q.c.y*u*v + q.b.y*v*v + w/2) / w,
		})
	}
	a.line(q.b)
}

// cubic does the same for a cubic.
func (a *areas) cubic(q cubic) {
	d := max(abs(q.a.x-2*q.c1.x+q.c2.x), abs(q.a.y-2*q.c1.y+q.c2.y), abs(q.c1.x-2*q.c2.x+q.b.x), abs(q.c1.y-2*q.c2.y+q.b.y))
	steps := 1
	for ; d > 0; d >>= 2 {
		steps <<= 1
	}
	w := steps * steps * steps
	for i := 1; i < steps; i++ {
		u, v := steps-i, i
		a.line(vec{
			(q.a.x*u*u*u + 3*q.c1.x*u*u*v + 3*q.c2.x*u*v*v + q.b.x*v*v*v + w/2) / w,
			(q.a.y*u*u*u + 3*q.c1.y*u*u*v + 3*q.c2.y*u*v*v + q.b.y*v*v*v + w/2) / w,
		})
	}
	a.line(q.b)
}

// line cuts a line at the rows it crosses.
func (a *areas) line(to vec) {
	low, high, up := a.at, to, true
	if low == high {
		return
	}
	a.at = to
	a.edges++
	if low.y > high.y {
		low, high, up = high, low, false
	}
	if low.y == high.y { // it has no part in areas, but others may cross it
		a.keep(piece{low: low, high: high, level: true}, min(low.y>>subpixelBits, len(a.first)-1))
	}
	for p := low; p.y < high.y; {
		row := p.y >> subpixelBits
		q := high
		if edge := (row + 1) << subpixelBits; edge < high.y {
			q = vec{xAt(low, high, edge), edge}
		}
		a.keep(piece{low: p, high: q, up: up}, row)
		p = q
	}
}

func (a *areas) keep(p piece, row int) {
	p.edge, p.contour, p.next = a.edges-1, a.contours-1, a.first[row]
	a.first[row] = int32(len(a.pieces))
	a.pieces = append(a.pieces, p)
}

// xAt is where the line from low to high is at y, rounded to nearest.
func xAt(low, high vec, y int) int {
	dy := high.y - low.y
	return low.x + divFloor((y-low.y)*(high.x-low.x)+dy/2, dy)
}

// each gives the doubled area covered of each pixel, row by row from the top.
func (a *areas) each(set func(row int, line []int32)) {
	for y := len(a.first) - 1; y >= 0; y-- {
		a.row = a.row[:0]
		for i := a.first[y]; i >= 0; i = a.pieces[i].next {
			if !a.pieces[i].level {
				a.row = append(a.row, a.pieces[i])
			}
		}
		clear(a.cover)
		clear(a.part)
		row := a.row
		if a.joined {
			row = a.union.of(row)
		}
		for i := range row {
			p := &row[i]
			if p.up {
				a.add(p.low, p.high)
			} else {
				a.add(p.high, p.low)
			}
		}
		sum := int32(0)
		for x, h := range a.cover {
			v := sum*(2*subpixel) + a.part[x]
			sum += h
			a.part[x] = min(max(v, -v), fullArea)
		}
		set(len(a.first)-1-y, a.part)
	}
}

// add cuts a piece of edge at the columns it crosses.
func (a *areas) add(p, to vec) {
	dx, dy := to.x-p.x, to.y-p.y
	for from := p; p.x != to.x; {
		col := p.x >> subpixelBits
		edge := (col + 1) << subpixelBits
		if dx < 0 {
			col = (p.x - 1) >> subpixelBits
			edge = col << subpixelBits
		}
		q := to
		if dx > 0 && edge < to.x || dx < 0 && edge > to.x {
			q = vec{edge, from.y + divFloor((edge-from.x)*dy, dx)}
		}
		a.cell(col, p, q)
		p = q
	}
	if p.y != to.y {
		a.cell(min(p.x>>subpixelBits, a.width-1), p, to)
	}
}

// cell adds a piece of edge that lies in one pixel.
func (a *areas) cell(col int, p, q vec) {
	h := int32(q.y - p.y)
	a.cover[col] += h
	a.part[col] += h * int32(2*subpixel-(p.x-col<<subpixelBits)-(q.x-col<<subpixelBits))
}

func divFloor(n, d int) int {
	q := n / d
	if n%d != 0 && (n < 0) != (d < 0) {
		q--
	}
	return q
}

func abs(v int) int { return max(v, -v) }
