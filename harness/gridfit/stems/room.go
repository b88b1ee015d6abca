package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"
)

// makeRoom moves upright stems that stray a pixel back, together with what stands in
// the way, where that leaves fewer of them astray: placed one by one, the last of a row
// may have been left too far out.
func (a *axis) makeRoom() {
	for i := range a.stems {
		s := &a.stems[i]
		if !a.strays(s, s.low) {
			continue
		}
		step := pixel
		if s.low > a.wish(s) {
			step = -pixel
		}
		row := a.pushed(i, step)
		if a.astray(row, step) < a.astray(row, 0) {
			for _, k := range row {
				a.stems[k].low += step
			}
		}
	}
}

// astray counts those of some stems that stray if all are moved by a step.
func (a *axis) astray(row []int, step fixed.Int26_6) (n int) {
	for _, k := range row {
		if s := &a.stems[k]; a.strays(s, s.low+step) {
			n++
		}
	}
	return n
}

// pushed lists the stems that move if one moves by a step: those it would come too
// near, those that it stands on an edge with or in a counter group, and so on.
func (a *axis) pushed(i int, step fixed.Int26_6) (row []int) {
	row = []int{i}
	for n := 0; n < len(row); n++ {
		s := &a.stems[row[n]]
		for k := range a.stems {
			o := &a.stems[k]
			lower, upper := o, s
			if step > 0 {
				lower, upper = s, o
			}
			near := a.beside(s, o) && lower.below(upper) && upper.low-lower.high() <= a.leastGap(lower, upper)
			if (near || s.standsOn(o) || s.by == ByCounter && o.by == ByCounter) && !slices.Contains(row, k) {
				row = append(row, k)
			}
		}
	}
	return row
}

// standsOn says that two stems share an edge, as drawn and as fitted.
func (s *stem) standsOn(o *stem) bool {
	return s.lo == o.lo && s.low == o.low || s.hi == o.hi && s.high() == o.high() ||
		s.lo == o.hi && s.low == o.high() || s.hi == o.lo && s.high() == o.low
}
