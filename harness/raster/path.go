package raster

import "smokeproof/harness/glyph"

// vec is a point in whatever sub-pixel unit its user chose, Y up.
type vec struct{ x, y int }

func half(a, b vec) vec { return vec{(a.x + b.x) / 2, (a.y + b.y) / 2} }

// point is a vec in one word, Y in the upper half of it, both moved by bias, so that
// neither is negative and both are added, or halved, at once. Four times the largest
// coordinate has room in a half.
type point uint64

const (
	bias  = 1 << 28
	right = 1<<32 - 1 // the bits of X
)

func (v vec) point() point { return point(v.y+bias)<<32 + point(v.x+bias) }
func (p point) vec() vec   { return vec{p.x() - bias, p.y() - bias} }

// x and y are still moved by bias.
func (p point) x() int { return int(p & right) }
func (p point) y() int { return int(p >> 32) }

func (p point) biased() vec { return vec{p.x(), p.y()} }

// half and quarter round down.
func (p point) half() point    { return p >> 1 &^ (1 << 31) }
func (p point) quarter() point { return p >> 2 &^ (3 << 30) }

// upsideDown changes the sign of Y.
func (p point) upsideDown() point { return p.turned(^point(right)) }

// turned is upsideDown where mask has the bits of Y, and p where it has none. No branch is needed for that: which
// way a contour goes, processors guess badly.
func (p point) turned(mask point) point { return p ^ mask + mask&((2*bias+1)<<32) }

// swapped swaps the axes.
func (p point) swapped() point { return p<<32 | p>>32 }

// verb is a step of a path; it takes its last point and those before it.
type verb uint8

const (
	moveTo  verb = iota // one point; begins a contour
	lineTo              // one point
	conicTo             // a control and an end
	cubicTo             // two controls and an end
	closeTo             // one point, where the contour began; ends it
)

// path is an outline as closed contours of lines and curves. Where two quadratic
// controls meet, the on-curve point half-way is implied. A contour that begins
// with a control starts at its last point, or half-way to it.
type path struct {
	verbs  []verb
	points []point
}

// of reads an outline; each point p becomes p << up + shift. It fails with
// ErrMalformed where the points of a contour are in an impossible order.
func (p *path) of(o *glyph.Outline, up uint, shift vec) error {
	p.clear()
	return eachContour(o, func(ps []glyph.Point) bool { return p.contour(ps, up, shift) })
}

func (p *path) clear() { p.verbs, p.points = p.verbs[:0], p.points[:0] }

// eachContour hands the points of each contour that has any to take, which is false
// where they make no sense.
func eachContour(o *glyph.Outline, take func([]glyph.Point) bool) error {
	first := 0
	for _, end := range o.Ends {
		if end < first-1 || end >= len(o.Points) {
			return ErrMalformed
		}
		if end >= first && !take(o.Points[first:end+1]) {
			return ErrMalformed
		}
		first = end + 1
	}
	return nil
}

func (p *path) contour(ps []glyph.Point, up uint, shift vec) bool { return walk(ps, up, shift, p) }

func (p *path) begin(at point)         { p.step(moveTo, at) }
func (p *path) line(to point)          { p.step(lineTo, to) }
func (p *path) conic(c, to point)      { p.step(conicTo, c, to) }
func (p *path) cubic(c1, c2, to point) { p.step(cubicTo, c1, c2, to) }
func (p *path) end(at point)           { p.step(closeTo, at) }
func (p *path) step(v verb, q ...point) {
	p.verbs, p.points = append(p.verbs, v), append(p.points, q...)
}

// steps takes those of a contour.
type steps interface {
	begin(at point)
	line(to point)
	conic(c, to point)
	cubic(c1, c2, to point)
	end(at point) // where it began
}

// walk goes round a contour; each of its points p becomes p << up + shift. It is false where it makes no sense.
func walk(ps []glyph.Point, up uint, shift vec, to steps) bool {
	at := func(q *glyph.Point) vec { return vec{int(q.X)<<up + shift.x, int(q.Y)<<up + shift.y} }
	start, i, n := at(&ps[0]), 1, len(ps)
	switch last := &ps[n-1]; {
	case ps[0].Kind == glyph.Cubic:
		return false
	case ps[0].Kind == glyph.OnCurve:
	case last.Kind == glyph.OnCurve:
		start, i, n = at(last), 0, n-1
	default:
		start, i = half(start, at(last)), 0
	}
	to.begin(start.point())
	for i < n {
		q := at(&ps[i])
		switch ps[i].Kind {
		case glyph.OnCurve:
			to.line(q.point())
			i++
		case glyph.Quad:
			end := start
			if i++; i < n {
				switch end = at(&ps[i]); ps[i].Kind {
				case glyph.OnCurve:
					i++
				case glyph.Quad:
					end = half(q, end)
				default:
					return false
				}
			}
			to.conic(q.point(), end.point())
		case glyph.Cubic:
			if i+1 >= n || ps[i+1].Kind != glyph.Cubic {
				return false
			}
			c, end := at(&ps[i+1]), start
			if i += 2; i < n {
				end = at(&ps[i])
				i++
			}
			to.cubic(q.point(), c.point(), end.point())
		}
	}
	to.end(start.point())
	return true
}

// transpose swaps the axes.
func (p *path) transpose() {
	for i, q := range p.points {
		p.points[i] = q.swapped()
	}
}
