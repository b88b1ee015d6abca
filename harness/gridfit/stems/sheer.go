package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// shownWithin is how far, in font units, a hint may be off the edge it means.
const shownWithin = 2 * 64

// sheer is a place along X where the drawing has upright edges, or curves that
// begin or end upright, and how long the longest is, in font units.
type sheer struct{ x, length fixed.Int26_6 }

// lookForSheer lists them. An upright hint without both edges there is none of a
// stem: slanted strokes have such hints, and so has many a serif that was traced by
// a program. To round them only moves what is drawn beside them. One that has its
// middle in common with a contour is a stem all the same, as of a tapered quote.
func (f *Fitter) lookForSheer() {
	f.x.sheer, f.x.middles = f.x.sheer[:0], f.x.middles[:0]
	f.contours(func(from, end int) {
		contour := f.drawn.Points[from:end]
		b := boxOf(contour)
		f.x.middles = append(f.x.middles, b.x0+b.x1)
		run := fixed.Int26_6(0)
		for i, p := range contour {
			q := contour[(i+1)%len(contour)]
			if p.X != q.X {
				run = 0
				continue
			}
			if run += abs(p.Y - q.Y); run > 0 {
				f.x.sheer = append(f.x.sheer, sheer{p.X, run})
			}
		}
	})
	slices.SortFunc(f.x.sheer, func(s, t sheer) int { return int(s.x - t.x) })
	kept := f.x.sheer[:0]
	for _, s := range f.x.sheer {
		if n := len(kept); n > 0 && kept[n-1].x == s.x {
			kept[n-1].length = max(kept[n-1].length, s.length)
		} else {
			kept = append(kept, s)
		}
	}
	f.x.sheer = kept
}

// shown says that the drawing shows an upright hint.
func (a *axis) shown(s *stem) bool {
	return a.sheerAt(s.lo) > 0 && a.sheerAt(s.hi) > 0 || slices.Contains(a.middles, s.lo+s.hi)
}

// short says that an edge of an upright hint is hardly longer than it is wide.
func (a *axis) short(s *stem) bool {
	return 2*min(a.sheerAt(s.lo), a.sheerAt(s.hi)) < 3*(s.hi-s.lo)
}

// serif says that a short hint has an edge in common with that of a stem: it is
// that of a serif, or of the stem with its serif, a good deal wider. The stem
// carries its serifs along, both alike.
func (a *axis) serif(s *stem, hints []face.Hint) bool {
	return a.short(s) && slices.ContainsFunc(hints, func(h face.Hint) bool {
		o := stemOf(&h)
		beside := o.lo == s.hi || o.hi == s.lo
		around := (o.lo == s.lo || o.hi == s.hi) && 4*(s.hi-s.lo) > 5*(o.hi-o.lo)
		return h.Axis == a.axis && (beside || around) && !a.short(&o) && a.shown(&o)
	})
}

// sheerAt is how long the longest upright edge at a place is.
func (a *axis) sheerAt(v fixed.Int26_6) (length fixed.Int26_6) {
	i, _ := slices.BinarySearchFunc(a.sheer, v-shownWithin, func(s sheer, at fixed.Int26_6) int { return int(s.x - at) })
	for ; i < len(a.sheer) && a.sheer[i].x <= v+shownWithin; i++ {
		length = max(length, a.sheer[i].length)
	}
	return length
}
