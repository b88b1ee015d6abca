package raster

import "smokeproof/harness/glyph"

// fullArea is a pixel that lies wholly inside: twice the area in units of
// 1/256 × 1/256 px.
const fullArea = 2 * 256 * 256

// areas accumulates, pixel by pixel, the signed area between the outline and
// the left edge of the bitmap, in units of 1/256 px.
type areas struct {
	width, height int
	cover         []int32 // height that edges cross in this pixel's row
	part          []int32 // area right of the edge inside the pixel, doubled
	path          path
	at            vec
}

func (a *areas) outline(o *glyph.Outline, b *glyph.Bitmap) error {
	a.width, a.height = b.Width, b.Height
	n := b.Width * b.Height
	if cap(a.cover) < n {
		a.cover, a.part = make([]int32, n), make([]int32, n)
	}
	a.cover, a.part = a.cover[:n], a.part[:n]
	clear(a.cover)
	clear(a.part)
	if err := a.path.of(o, 2, vec{-b.Left << 8, -b.Bottom << 8}); err != nil {
		return err
	}
	points := a.path.points
	for _, v := range a.path.verbs {
		switch v {
		case moveTo:
			a.at, points = points[0], points[1:]
		case lineTo, closeTo:
			a.lineTo(points[0])
			points = points[1:]
		case conicTo:
			a.conicTo(points[0], points[1])
			points = points[2:]
		case cubicTo:
			a.cubicTo(points[0], points[1], points[2])
			points = points[3:]
		}
	}
	return nil
}

// each visits every pixel, rows top to bottom. Doubly covered area counts once;
// the direction of a contour does not matter, only that of one in another.
func (a *areas) each(b *glyph.Bitmap, set func(row []uint64, x int, area int32)) {
	for y := range a.height {
		row := b.Row(a.height - 1 - y)
		sum := int32(0)
		for x := range a.width {
			i := y*a.width + x
			v := sum*512 + a.part[i]
			sum += a.cover[i]
			if v < 0 {
				v = -v
			}
			set(row, x, min(v, fullArea))
		}
	}
}

func (a *areas) conicTo(c, to vec) {
	from := a.at
	dx, dy := abs(from.x-2*c.x+to.x), abs(from.y-2*c.y+to.y)
	steps := 1
	for d := max(dx, dy); d > 4; d >>= 2 { // the chord strays by d/8 of 1/256 px at most
		steps <<= 1
	}
	for i := 1; i < steps; i++ {
		u, v := steps-i, i
		w := steps * steps
		a.lineTo(vec{
			(from.x*u*u + 2*c.x*u*v + to.x*v*v + w/2) / w,
			(from.y*u*u + 2*c.y*u*v + to.y*v*v + w/2) / w,
		})
	}
	a.lineTo(to)
}

func (a *areas) cubicTo(c1, c2, to vec) {
	from := a.at
	d := max(abs(from.x-2*c1.x+c2.x), abs(from.y-2*c1.y+c2.y), abs(c1.x-2*c2.x+to.x), abs(c1.y-2*c2.y+to.y))
	steps := 1
	for ; d > 1; d >>= 2 {
		steps <<= 1
	}
	for i := 1; i < steps; i++ {
		u, v := steps-i, i
		w := steps * steps * steps
		a.lineTo(vec{
			(from.x*u*u*u + 3*c1.x*u*u*v + 3*c2.x*u*v*v + to.x*v*v*v + w/2) / w,
			(from.y*u*u*u + 3*c1.y*u*u*v + 3*c2.y*u*v*v + to.y*v*v*v + w/2) / w,
		})
	}
	a.lineTo(to)
}

// lineTo cuts a line at the rows it crosses.
func (a *areas) lineTo(to vec) {
	p := a.at
	a.at = to
	if p.y == to.y {
		return
	}
	dx, dy := to.x-p.x, to.y-p.y
	from := p
	for p.y != to.y {
		row := p.y >> 8
		edge := (row + 1) << 8
		if dy < 0 {
			row = (p.y - 1) >> 8
			edge = row << 8
		}
		q := to
		if dy > 0 && edge < to.y || dy < 0 && edge > to.y {
			q = vec{from.x + divFloor((edge-from.y)*dx, dy), edge}
		}
		a.rowLine(row, p, q)
		p = q
	}
}

// rowLine cuts a line inside one row at the columns it crosses.
func (a *areas) rowLine(row int, p, to vec) {
	dx, dy := to.x-p.x, to.y-p.y
	from := p
	for p.x != to.x {
		col := p.x >> 8
		edge := (col + 1) << 8
		if dx < 0 {
			col = (p.x - 1) >> 8
			edge = col << 8
		}
		q := to
		if dx > 0 && edge < to.x || dx < 0 && edge > to.x {
			q = vec{edge, from.y + divFloor((edge-from.x)*dy, dx)}
		}
		a.cell(row, col, p, q)
		p = q
	}
	if p.y != to.y {
		a.cell(row, min(p.x>>8, a.width-1), p, to)
	}
}

// cell adds a piece of edge that lies in one pixel.
func (a *areas) cell(row, col int, p, q vec) {
	if row < 0 || row >= a.height || col < 0 || col >= a.width {
		return
	}
	i := row*a.width + col
	h := int32(q.y - p.y)
	a.cover[i] += h
	a.part[i] += h * int32(512-(p.x-col<<8)-(q.x-col<<8))
}

func divFloor(n, d int) int {
	q := n / d
	if n%d != 0 && (n < 0) != (d < 0) {
		q--
	}
	return q
}

func abs(v int) int {
	if v < 0 {
		return -v
	}
	return v
}
