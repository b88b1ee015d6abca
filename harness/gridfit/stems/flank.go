package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// flank is a straight segment of a contour, which has the points from one index up to
// another: upright, or off by no more than shownWithin and a hundredth of its length.
type flank struct {
	from, end   int
	bottom, top int  // points
	up          bool // the contour runs that way
	left        bool // the ink is at its right
}

// maxFlanks bounds those looked at in one glyph, as each is held against each: letters
// have a dozen.
const maxFlanks = 256

func (f *Fitter) lookForFlanks() {
	f.flanks = f.flanks[:0]
	for _, c := range f.measured {
		for i, k := c.end-1, c.from; k < c.end && len(f.flanks) < maxFlanks; i, k = k, k+1 {
			p, q := f.drawn.Points[i], f.drawn.Points[k]
			off, length := abs(p.X-q.X), abs(p.Y-q.Y)
			switch {
			case p.Kind != glyph.OnCurve || q.Kind != glyph.OnCurve || off > shownWithin || 100*off > length:
			case p.Y < q.Y:
				f.flanks = append(f.flanks, flank{c.from, c.end, i, k, true, !c.inkLeft})
			case p.Y > q.Y:
				f.flanks = append(f.flanks, flank{c.from, c.end, k, i, false, c.inkLeft})
			}
		}
	}
}

// at is where a flank stands, in font units; of one a little off upright the middle.
func (f *Fitter) at(s *flank) fixed.Int26_6 {
	return (f.drawn.Points[s.bottom].X + f.drawn.Points[s.top].X) / 2
}

// beside is how far two flanks run beside each other.
func (f *Fitter) beside(s, t *flank) fixed.Int26_6 {
	points := f.drawn.Points
	return min(points[s.top].Y, points[t.top].Y) - max(points[s.bottom].Y, points[t.bottom].Y)
}

// way goes through the points of a contour from an end of a flank on.
type way struct{ from, end, at, by int }

func (s flank) way(top bool) way {
	w := way{s.from, s.end, s.bottom, 1}
	if top {
		w.at = s.top
	}
	if s.up != top {
		w.by = -1
	}
	return w
}

func (w *way) step() {
	n := w.end - w.from
	w.at = w.from + (w.at-w.from+w.by+n)%n
}

// drawUpright puts both ends of a flank on one position, where a stem can hold them.
func (f *Fitter) drawUpright(s *flank) {
	at := f.at(s)
	f.drawn.Points[s.bottom].X, f.drawn.Points[s.top].X = at, at
}

// keepUpright puts the two flanks of a stem where the stem stands, where hints are
// replaced along one of them and have left it slanted or with its stem's other edge
// somewhere else.
func (f *Fitter) keepUpright() {
	for i := range f.x.stems {
		s := &f.x.stems[i]
		if l, r, ok := f.sides(s); ok && s.used {
			f.stand(&l, s.low)
			f.stand(&r, s.high())
		}
	}
}

// stand puts a flank at a place, with the control points that make a curve leave it
// upright, unless it stands upright on an edge already.
func (f *Fitter) stand(s *flank, at fixed.Int26_6) {
	if f.bounds(s, s.bottom) && f.bounds(s, s.top) && f.out.Points[s.bottom].X == f.out.Points[s.top].X {
		return
	}
	x := f.drawn.Points[s.bottom].X
	for _, top := range [...]bool{false, true} {
		w := s.way(top)
		f.out.Points[w.at].X = at
		if w.step(); f.drawn.Points[w.at].X == x && f.drawn.Points[w.at].Kind != glyph.OnCurve {
			f.out.Points[w.at].X = at
		}
	}
}

// bounds says that a point of a flank was put on an edge of a stem that has its ink at
// the flank's side.
func (f *Fitter) bounds(s *flank, point int) bool {
	h, x := f.held[point], f.drawn.Points[point].X
	return h.on && (s.left && h.high.from > x || !s.left && h.low.from < x)
}

// keepApart keeps a flank that no stem holds a pixel off each stem beside it, where there is
// a pixel of white between the two in the drawing: the bar of a T would touch the M.
func (f *Fitter) keepApart() {
	for i := range f.flanks {
		b := &f.flanks[i]
		if f.held[b.bottom].on || f.held[b.top].on {
			continue
		}
		drawn, place := f.at(b), f.out.Points[b.bottom].X
		for k := range f.x.stems {
			s := &f.x.stems[k]
			switch {
			case !s.used || f.drawn.Points[b.top].Y < s.reach.y0 || f.drawn.Points[b.bottom].Y > s.reach.y1:
			case !b.left && f.x.scale.of(s.lo-drawn) >= pixel:
				place = min(place, s.low-pixel)
			case b.left && f.x.scale.of(drawn-s.hi) >= pixel:
				place = max(place, s.high()+pixel)
			}
		}
		if place != f.out.Points[b.bottom].X {
			f.out.Points[b.bottom].X, f.out.Points[b.top].X = place, place
		}
	}
}
