package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// pairSerifs makes mirror images of the two serifs at an end of an upright stem
// that are so in the drawing, where hints in force at one side alone, or the edge
// of an accent over it, have moved one of them. Each axis is taken from the side
// that is less off where it would be if it were only scaled.
func (f *Fitter) pairSerifs() {
	for i := range f.x.stems {
		if left, right, ok := f.sides(&f.x.stems[i]); ok {
			for _, top := range [...]bool{false, true} {
				var half [maxSerif][2]int
				n := f.halves(left.way(top), right.way(top), half[:])
				if f.otherStems(half[:n]) {
					continue
				}
				f.pair(half[:n], glyph.AxisX)
				f.pair(half[:n], glyph.AxisY)
			}
		}
	}
}

// maxSerif bounds the points of one half of a serif.
const maxSerif = 14

// sides finds the edges of a stem where they face each other longest.
func (f *Fitter) sides(s *stem) (left, right flank, ok bool) {
	points, longest := f.drawn.Points, fixed.Int26_6(0)
	for i := range f.flanks {
		l := &f.flanks[i]
		if points[l.top].X != s.lo || points[l.bottom].X != s.lo {
			continue
		}
		for k := range f.flanks {
			r := &f.flanks[k]
			if points[r.top].X != s.hi || points[r.bottom].X != s.hi {
				continue
			}
			if length := f.beside(l, r); length > longest {
				left, right, longest, ok = *l, *r, length, true
			}
		}
	}
	return left, right, ok
}

// halves goes from the ends of a stem's two edges to where either way comes to
// the middle of the stem, and gives the points in pairs if they are mirror images;
// else none.
func (f *Fitter) halves(left, right way, half [][2]int) (n int) {
	points := f.drawn.Points
	twice := points[left.at].X + points[right.at].X // the middle
	for ; 2*points[left.at].X < twice || 2*points[right.at].X > twice; n++ {
		p, q := points[left.at], points[right.at]
		if n == len(half) || p.X+q.X != twice || p.Y != q.Y || p.Kind != q.Kind {
			return 0
		}
		half[n] = [2]int{left.at, right.at}
		left.step()
		right.step()
	}
	return n
}

// otherStems says that halves go on to the edges of a stem at either side, as from the
// middle one of a psi: they are no serifs.
func (f *Fitter) otherStems(half [][2]int) bool {
	other := func(point int) bool {
		h, own := f.held[point], f.held[half[0][0]]
		return h.on && (h.high.from <= own.low.from || h.low.from >= own.high.from)
	}
	return slices.ContainsFunc(half, func(p [2]int) bool { return other(p[0]) && other(p[1]) })
}

// pair makes two halves mirror images of each other along an axis, if they are
// not: about the middle of the first two points along X, alike along Y.
func (f *Fitter) pair(half [][2]int, a glyph.Axis) {
	s := f.scale(a)
	var off [2]fixed.Int26_6
	var about, drawnAbout [2]fixed.Int26_6 // along X: the edges of the stem
	for i, points := range half {
		for side, p := range points {
			at, drawn := *along(&f.out.Points[p], a), *along(&f.drawn.Points[p], a)
			if i == 0 && a == glyph.AxisX {
				about[side], drawnAbout[side] = at, drawn
			}
			off[side] += abs(at - about[side] - s.of(drawn-drawnAbout[side]))
		}
	}
	from, to := 0, 1
	if off[1] < off[0] {
		from, to = 1, 0
	}
	for _, points := range half {
		v := *along(&f.out.Points[points[from]], a)
		if a == glyph.AxisX {
			v = about[to] - (v - about[from])
		}
		*along(&f.out.Points[points[to]], a) = v
	}
}
