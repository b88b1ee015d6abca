package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// off is how far a place is from where an edge would be if it were only scaled.
func (a *axis) off(place, edge fixed.Int26_6) fixed.Int26_6 {
	return abs(place - a.shift - a.scale.of(edge))
}

// strays says that an upright stem placed at low has an edge more than a pixel off:
// then a bearing would be as far off; or a bar its middle.
func (a *axis) strays(s *stem, low fixed.Int26_6) bool {
	if a.axis == glyph.AxisY {
		return abs(low-a.wish(s)) > pixel
	}
	return a.off(low, s.lo) > pixel || a.off(low+s.width, s.hi) > pixel
}

// hardly says that a stem strays by no more than the 64th that places are rounded by: it is
// the better place of two where either strays.
func (a *axis) hardly(s *stem, low fixed.Int26_6) bool {
	one := int64(a.scale.upem) * int64(pixel) // a 64th of a pixel
	off := func(place, edge fixed.Int26_6) int64 {
		v := int64(place-a.shift)*one - int64(edge)*int64(a.scale.ppem)
		return max(v, -v)
	}
	return max(off(low, s.lo), off(low+s.width, s.hi)) <= int64(pixel+1)*one
}

// misleads counts the stems not placed yet that would stray if they followed one at
// low: by an edge in common with it, or, of upright ones, with one that followed.
func (a *axis) misleads(s *stem, low fixed.Int26_6) int {
	a.led = a.led[:0]
	return a.lead(s, low)
}

func (a *axis) lead(s *stem, low fixed.Int26_6) (n int) {
	at := *s
	at.low = low
	for i := range a.stems {
		o := &a.stems[i]
		there, ok := alternative(o, &at)
		if !ok {
			there, ok = neighbour(o, &at)
		}
		switch {
		case !ok || o.placed || o == s || slices.Contains(a.led, i):
		case a.strays(o, there):
			n++
		case a.axis == glyph.AxisX:
			a.led = append(a.led, i)
			n += a.lead(o, there)
		}
	}
	return n
}

// strayed is the cost of a place for each upright stem that strays there: as of one
// two pixels off.
const strayed = int64(4 * pixel * pixel)

// makeRoom moves upright stems that stray a pixel back, together with what stands in
// the way, where that leaves fewer of them astray: placed one by one, the last of a row
// may have been left too far out.
func (a *axis) makeRoom() {
	for i := range a.stems {
		s := &a.stems[i]
		if a.axis == glyph.AxisY || !a.strays(s, s.low) {
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
			near := lower.below(upper) && upper.low-lower.high() <= a.leastGap(lower, upper)
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
