package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// breadth is a stem's width in font units. One that is drawn a unit or two askew is declared
// twice, under a hint for either half, and at two widths it would have a notch: it takes the
// one that another stem has, or the dictionary, or else the wider.
func (a *axis) breadth(s *stem) fixed.Int26_6 {
	own := s.hi - s.lo
	best := own
	for i := range a.stems {
		o := &a.stems[i]
		if width := o.hi - o.lo; s.askewTo(o) {
			if a.known(own) {
				return own
			}
			if a.known(width) {
				return width
			}
			best = max(best, width)
		}
	}
	return best
}

// askewTo says that two hints of different widths mean one stem.
func (s *stem) askewTo(o *stem) bool {
	return s.hi-s.lo != o.hi-o.lo && o.ghost == face.NoGhost && abs(o.lo-s.lo) <= shownWithin && abs(o.hi-s.hi) <= shownWithin
}

// known says that the dictionary has a width, or a stem that is not askew.
func (a *axis) known(width fixed.Int26_6) bool {
	return width == a.widths.standard || slices.Contains(a.widths.snaps, width) || slices.ContainsFunc(a.stems, func(o stem) bool {
		return o.hi-o.lo == width && !slices.ContainsFunc(a.stems, func(p stem) bool { return o.askewTo(&p) })
	})
}
