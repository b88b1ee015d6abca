package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// shownWithin is how far, in font units, a hint may be off the edge it means.
const shownWithin = 2 * 64

// sheer is a place along an axis where the drawing has an edge square to it, a
// curve that begins or ends so, or on Y a tip; how long the longest is, the longest
// that is straight, and all of them, in font units; and on which sides of it there is ink.
type sheer struct {
	at, length, straight, all fixed.Int26_6
	lower, upper              bool // the lower and the upper edge of ink
}

// lookForSheer lists them. A hint without both edges there is none of a stem:
// slanted strokes have such hints, and so has many a serif that was traced by a
// program. To round them only moves what is drawn beside them. One that has its
// middle in common with a contour is a stem all the same, as of a tapered quote.
func (a *axis) lookForSheer(f *Fitter) {
	a.sheer, a.boxes = a.sheer[:0], a.boxes[:0]
	a.found = a.found[:0]
	for _, c := range f.measured {
		a.boxes = append(a.boxes, c.box)
		a.lookAlong(f.drawn.Points[c.from:c.end], c.inkLeft)
	}
	a.order = a.order[:0]
	for i, s := range a.found {
		a.order = append(a.order, int64(s.at)<<32+int64(i))
	}
	slices.Sort(a.order)
	for _, k := range a.order {
		s := a.found[uint32(k)]
		if n := len(a.sheer); n > 0 && a.sheer[n-1].at == s.at {
			a.sheer[n-1] = a.sheer[n-1].and(s)
		} else {
			a.sheer = append(a.sheer, s)
		}
	}
}

func (a *axis) lookAlong(contour []glyph.Point, inkLeft bool) {
	run := fixed.Int26_6(0)
	for i := range contour {
		p, q := &contour[i], &contour[(i+1)%len(contour)]
		at := *along(p, a.axis)
		if at != *along(q, a.axis) {
			run = 0
			if a.axis == glyph.AxisY && extreme(contour, i, true) != face.NoGhost {
				a.found = append(a.found, sheer{at: at, length: 1})
			}
			continue
		}
		step := abs(p.X-q.X) + abs(p.Y-q.Y)
		if run += step; run > 0 {
			lower := (p.X < q.X || p.Y > q.Y) == inkLeft
			straight := fixed.Int26_6(0)
			if p.Kind == glyph.OnCurve && q.Kind == glyph.OnCurve {
				straight = step
			}
			a.found = append(a.found, sheer{at, run, straight, step, lower, !lower})
		}
	}
}

// shown says that the drawing shows a hint.
func (a *axis) shown(s *stem) bool {
	return a.sheerAt(s.lo) > 0 && a.sheerAt(s.hi) > 0 || slices.ContainsFunc(a.boxes, func(b box) bool {
		lo, hi := b.along(a.axis)
		return lo+hi == s.lo+s.hi
	})
}

// white says that a hint is that of the white between two stems: it begins where ink
// ends, and ends where ink begins.
func (a *axis) white(s *stem) bool {
	from, to := a.edgesAt(s.lo), a.edgesAt(s.hi)
	return from.upper && !from.lower && to.lower && !to.upper && a.contourOf(s) < 0
}

// contourOf is the contour that a hint is the whole of, within shownWithin; or -1.
func (a *axis) contourOf(s *stem) int {
	return slices.IndexFunc(a.boxes, func(b box) bool {
		lo, hi := b.along(a.axis)
		return abs(lo-s.lo) <= shownWithin && abs(hi-s.hi) <= shownWithin
	})
}

// dot says that a hint is that of a whole contour which no other touches.
func (a *axis) dot(s *stem) bool {
	i := a.contourOf(s)
	return i >= 0 && !slices.ContainsFunc(a.boxes, func(b box) bool { return b != a.boxes[i] && b.overlaps(a.boxes[i]) })
}

// inverted says that ink ends where a bar's should begin, and begins nowhere there, or
// the other way round: the bar is white in the drawing.
func (a *axis) inverted(s *stem) bool {
	return s.ghost == face.NoGhost && a.invertedIn(s, allPoints)
}

func (a *axis) invertedIn(s *stem, points stretch) bool {
	return a.drawn(s.lo, face.GhostTop, points) && !a.drawn(s.lo, face.GhostBottom, points) ||
		a.drawn(s.hi, face.GhostBottom, points) && !a.drawn(s.hi, face.GhostTop, points)
}

// short says that an edge of a hint is hardly longer than the hint is wide.
func (a *axis) short(s *stem) bool {
	return 2*min(a.sheerAt(s.lo), a.sheerAt(s.hi)) < 3*(s.hi-s.lo)
}

// stub says that a hint is wider than its edges are long, all of them together: those
// of a stem may be in pieces, between its bars.
func (a *axis) stub(s *stem) bool {
	return 2*min(a.edgesAt(s.lo).all, a.edgesAt(s.hi).all) < 3*(s.hi-s.lo)
}

// serif says that a short hint has an edge in common with that of a stem: it is
// that of a serif, or of an upright stem with its serif, a good deal wider than the
// stem and by more than its straight edges are long. The stem carries its serifs along,
// both alike. Bars may miss the edge by a little; beside an upright stem there may be a
// dot, which is none.
func (a *axis) serif(s *stem, hints []face.Hint) bool {
	upright, miss := a.axis == glyph.AxisX, fixed.Int26_6(shownWithin)
	if upright {
		miss = 0
	}
	if !a.short(s) || upright && a.dot(s) {
		return false
	}
	straight := min(a.edgesAt(s.lo).straight, a.edgesAt(s.hi).straight)
	beside := func(o *stem) bool {
		beyond := s.hi - s.lo - (o.hi - o.lo)
		around := upright && (o.lo == s.lo || o.hi == s.hi) && 4*beyond > o.hi-o.lo && 2*straight < 3*beyond
		return around || abs(o.lo-s.hi) <= miss && a.reachesOn(s.hi, face.GhostTop, o.hi) || abs(o.hi-s.lo) <= miss && a.reachesOn(s.lo, face.GhostBottom, o.lo)
	}
	declared := slices.ContainsFunc(hints, func(h face.Hint) bool {
		o := stemOf(&h)
		return h.Axis == a.axis && h.Ghost == face.NoGhost && beside(&o) && !a.stub(&o) && a.shown(&o) && !(upright && a.white(&o))
	})
	return declared || slices.ContainsFunc(a.undeclared, func(o stem) bool { return beside(&o) })
}

// reachesOn says that a contour with an extreme at the edge of a bar goes on as far as
// another bar does: the top of a ring is no serif of the bar that begins there in the
// stroke beside it.
func (a *axis) reachesOn(from fixed.Int26_6, of face.Ghost, to fixed.Int26_6) bool {
	ends := false
	for _, e := range a.extremes {
		if e.of == of && abs(e.y-from) <= shownWithin {
			if ends = true; e.box.y0 <= to+shownWithin && to-shownWithin <= e.box.y1 {
				return true
			}
		}
	}
	return !ends
}

// zoned says that an edge of a bar lies in a zone: then it is one even where its
// other edge is none of the drawing's, as that of a bracketed serif.
func (a *axis) zoned(s *stem) bool {
	return catch(a.zones, s.lo, false) >= 0 || catch(a.zones, s.hi, true) >= 0
}

// sheerAt is how long the longest edge at a place is.
func (a *axis) sheerAt(v fixed.Int26_6) fixed.Int26_6 { return a.edgesAt(v).length }

// edgesAt tells of all edges at a place, as one.
func (a *axis) edgesAt(v fixed.Int26_6) (all sheer) {
	i, _ := slices.BinarySearchFunc(a.sheer, v-shownWithin, func(s sheer, at fixed.Int26_6) int { return int(s.at - at) })
	for ; i < len(a.sheer) && a.sheer[i].at <= v+shownWithin; i++ {
		all = all.and(a.sheer[i])
	}
	return all
}

func (s sheer) and(o sheer) sheer {
	return sheer{s.at, max(s.length, o.length), max(s.straight, o.straight), s.all + o.all, s.lower || o.lower, s.upper || o.upper}
}
