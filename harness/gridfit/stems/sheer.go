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
// curve that begins or ends so, or on Y a tip; and how long the longest is, in font
// units.
type sheer struct{ at, length fixed.Int26_6 }

// lookForSheer lists them. A hint without both edges there is none of a stem:
// slanted strokes have such hints, and so has many a serif that was traced by a
// program. To round them only moves what is drawn beside them. One that has its
// middle in common with a contour is a stem all the same, as of a tapered quote.
func (a *axis) lookForSheer(f *Fitter) {
	a.sheer, a.middles = a.sheer[:0], a.middles[:0]
	f.contours(func(from, end int) { a.lookAlong(f.drawn.Points[from:end]) })
	slices.SortFunc(a.sheer, func(s, t sheer) int { return int(s.at - t.at) })
	kept := a.sheer[:0]
	for _, s := range a.sheer {
		if n := len(kept); n > 0 && kept[n-1].at == s.at {
			kept[n-1].length = max(kept[n-1].length, s.length)
		} else {
			kept = append(kept, s)
		}
	}
	a.sheer = kept
}

func (a *axis) lookAlong(contour []glyph.Point) {
	lo, hi := boxOf(contour).along(a.axis)
	a.middles = append(a.middles, lo+hi)
	run := fixed.Int26_6(0)
	for i := range contour {
		p, q := &contour[i], &contour[(i+1)%len(contour)]
		at := *along(p, a.axis)
		if at != *along(q, a.axis) {
			run = 0
			if a.axis == glyph.AxisY && extreme(contour, i, true) != face.NoGhost {
				a.sheer = append(a.sheer, sheer{at, 1})
			}
			continue
		}
		if run += abs(p.X-q.X) + abs(p.Y-q.Y); run > 0 {
			a.sheer = append(a.sheer, sheer{at, run})
		}
	}
}

// shown says that the drawing shows a hint.
func (a *axis) shown(s *stem) bool {
	return a.sheerAt(s.lo) > 0 && a.sheerAt(s.hi) > 0 || slices.Contains(a.middles, s.lo+s.hi)
}

// short says that an edge of a hint is hardly longer than the hint is wide.
func (a *axis) short(s *stem) bool {
	return 2*min(a.sheerAt(s.lo), a.sheerAt(s.hi)) < 3*(s.hi-s.lo)
}

// serif says that a short hint has an edge in common with that of a stem: it is
// that of a serif, or of an upright stem with its serif, a good deal wider. The
// stem carries its serifs along, both alike. Bars may miss the edge by a little;
// beside an upright stem there may be a dot.
func (a *axis) serif(s *stem, hints []face.Hint) bool {
	upright, miss := a.axis == glyph.AxisX, fixed.Int26_6(shownWithin)
	if upright {
		miss = 0
	}
	beside := func(o *stem) bool {
		around := upright && (o.lo == s.lo || o.hi == s.hi) && 4*(s.hi-s.lo) > 5*(o.hi-o.lo)
		return around || abs(o.lo-s.hi) <= miss || abs(o.hi-s.lo) <= miss
	}
	return a.short(s) && (slices.ContainsFunc(hints, func(h face.Hint) bool {
		o := stemOf(&h)
		return h.Axis == a.axis && h.Ghost == face.NoGhost && beside(&o) && !a.short(&o) && a.shown(&o)
	}) || slices.ContainsFunc(a.undeclared, func(o stem) bool { return beside(&o) }))
}

// zoned says that an edge of a bar lies in a zone: then it is one even where its
// other edge is none of the drawing's, as that of a bracketed serif.
func (a *axis) zoned(s *stem) bool {
	return catch(a.zones, s.lo, false) >= 0 || catch(a.zones, s.hi, true) >= 0
}

// sheerAt is how long the longest upright edge at a place is.
func (a *axis) sheerAt(v fixed.Int26_6) (length fixed.Int26_6) {
	i, _ := slices.BinarySearchFunc(a.sheer, v-shownWithin, func(s sheer, at fixed.Int26_6) int { return int(s.at - at) })
	for ; i < len(a.sheer) && a.sheer[i].at <= v+shownWithin; i++ {
		length = max(length, a.sheer[i].length)
	}
	return length
}
