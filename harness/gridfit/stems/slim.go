package stems

import (
	"slices"

	"smokeproof/harness/glyph"
)

// slim takes a pixel from a bar that no zone holds and that closes a counter wherever it
// stands, if that opens it: as that of a barred h between the arch and the serif. A bar
// keeps its width that is short, as a dot is, or as wide in the drawing as another.
func (a *axis) slim() {
	for i := range a.stems {
		s := &a.stems[i]
		if a.axis != glyph.AxisY || s.by != ByOrder || s.width <= pixel || a.clear(s, s.low) || a.short(s) || a.shares(s) || a.hasTwin(s) {
			continue
		}
		low := s.low
		s.width -= pixel
		if a.settle(s); !a.clear(s, s.low) {
			s.low, s.width = low, s.width+pixel
		}
	}
}

// hasTwin says that another stem is as wide in the drawing.
func (a *axis) hasTwin(s *stem) bool {
	return slices.ContainsFunc(a.stems, func(o stem) bool {
		return o.hi-o.lo == s.hi-s.lo && (o.lo != s.lo || o.ghost != s.ghost)
	})
}
