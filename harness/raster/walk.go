package raster

import "smokeproof/harness/glyph"

// vec is a point in whatever sub-pixel unit its user chose, Y up.
type vec struct{ x, y int }

// pather receives a contour as moves, lines and curves.
type pather interface {
	moveTo(vec)
	lineTo(vec)
	conicTo(c, to vec)
	cubicTo(c1, c2, to vec)
	closePath()
}

// walk hands an outline's contours on; at maps its points into p's unit. Where
// two quadratic controls meet, the on-curve point half-way is implied. A contour
// that begins with a control starts at its last point, or half-way to it.
func walk(o *glyph.Outline, at func(glyph.Point) vec, p pather) {
	first := 0
	for _, end := range o.Ends {
		if end >= len(o.Points) || end < first {
			return
		}
		contour(o.Points[first:end+1], at, p)
		first = end + 1
	}
}

func contour(ps []glyph.Point, at func(glyph.Point) vec, p pather) {
	n := len(ps)
	last := n // points to visit after the start
	start := at(ps[0])
	i := 1
	if ps[0].Kind == glyph.Quad {
		if ps[n-1].Kind == glyph.OnCurve {
			start = at(ps[n-1])
			last--
		} else {
			start = half(start, at(ps[n-1]))
		}
		i = 0
	}
	p.moveTo(start)
	for i < last {
		switch q := at(ps[i]); ps[i].Kind {
		case glyph.OnCurve:
			p.lineTo(q)
			i++
		case glyph.Quad:
			to := start
			i++
			if i < last {
				if to = at(ps[i]); ps[i].Kind == glyph.OnCurve {
					i++
				} else {
					to = half(q, to)
				}
			}
			p.conicTo(q, to)
			if i == last && to == start {
				p.closePath()
				return
			}
		case glyph.Cubic:
			to := start
			if i+2 < last {
				to = at(ps[i+2])
			}
			if i+1 >= last {
				return
			}
			p.cubicTo(q, at(ps[i+1]), to)
			i += 3
		}
	}
	p.lineTo(start)
	p.closePath()
}

func half(a, b vec) vec { return vec{(a.x + b.x) / 2, (a.y + b.y) / 2} }

// splitConic halves a quadratic stored backwards: arc[0] is its end, arc[2] its
// start. Afterwards arc[2:5] is the first half.
func splitConic(arc *[5]vec) {
	arc[4] = arc[2]
	a, b := vec{arc[0].x + arc[1].x, arc[0].y + arc[1].y}, vec{arc[1].x + arc[2].x, arc[1].y + arc[2].y}
	arc[3] = vec{b.x >> 1, b.y >> 1}
	arc[2] = vec{(a.x + b.x) >> 2, (a.y + b.y) >> 2}
	arc[1] = vec{a.x >> 1, a.y >> 1}
}

// splitCubic does the same for a cubic: afterwards arc[3:7] is the first half.
func splitCubic(arc *[7]vec) {
	arc[6] = arc[3]
	sum := func(a, b vec) vec { return vec{a.x + b.x, a.y + b.y} }
	a, b, c := sum(arc[0], arc[1]), sum(arc[1], arc[2]), sum(arc[2], arc[3])
	d, e := sum(a, b), sum(b, c)
	arc[5] = vec{c.x >> 1, c.y >> 1}
	arc[4] = vec{e.x >> 2, e.y >> 2}
	f := sum(d, e)
	arc[3] = vec{f.x >> 3, f.y >> 3}
	arc[2] = vec{d.x >> 2, d.y >> 2}
	arc[1] = vec{a.x >> 1, a.y >> 1}
}
