package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"
)

// shownWithin is how far, in font units, a hint may be off the edge it means.
const shownWithin = 2 * 64

// lookForSheer lists where the drawing has an upright edge, or a curve begins or
// ends upright. An upright hint without both edges there is none of a stem:
// slanted strokes have such hints, and so has many a serif that was traced by a
// program. To round them only moves what is drawn beside them. One that has its
// middle in common with a contour is a stem all the same, as of a tapered quote.
func (f *Fitter) lookForSheer() {
	f.x.sheer, f.x.middles = f.x.sheer[:0], f.x.middles[:0]
	f.contours(func(from, end int) {
		contour := f.drawn.Points[from:end]
		b := boxOf(contour)
		f.x.middles = append(f.x.middles, b.x0+b.x1)
		for i, p := range contour {
			if q := contour[(i+1)%len(contour)]; p.X == q.X && p.Y != q.Y {
				f.x.sheer = append(f.x.sheer, p.X)
			}
		}
	})
	slices.Sort(f.x.sheer)
}

// shown says that the drawing shows an upright hint.
func (a *axis) shown(lo, hi fixed.Int26_6) bool {
	return a.sheerAt(lo) && a.sheerAt(hi) || slices.Contains(a.middles, lo+hi)
}

func (a *axis) sheerAt(v fixed.Int26_6) bool {
	i, _ := slices.BinarySearch(a.sheer, v-shownWithin)
	return i < len(a.sheer) && a.sheer[i] <= v+shownWithin
}
