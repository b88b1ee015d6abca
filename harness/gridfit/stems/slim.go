package stems

import (
	"slices"

	"smokeproof/harness/glyph"
)

// slim takes a pixel from a bar that closes a counter wherever it stands, if that opens
// it: as that of a barred h between the arch and the serif. A short bar, as a dot is,
// keeps its width, and so does one that is as wide in the drawing as another.
func (a *axis) slim() {
	for i := range a.stems {
		s := &a.stems[i]
		if a.axis != glyph.AxisY || s.by != ByOrder || s.width <= pixel || a.clear(s, s.low) || a.short(s) || a.shares(s) || a.hasTwin(s) {
			continue
		}
		low, lack := s.low, a.lack(s)
		s.width -= pixel
		if a.settle(s); a.lack(s) >= lack {
			s.low, s.width = low, s.width+pixel
		}
	}
}

// lack is what a stem costs where it stands for the counters that it closes.
func (a *axis) lack(s *stem) int64 {
	near := a.neighbours(s, anywhere)
	return a.closes(s, s.low, near) + a.closes(s, s.low, a.facing(s, near))
}

// hasTwin says that another stem is as wide in the drawing.
func (a *axis) hasTwin(s *stem) bool {
	return slices.ContainsFunc(a.stems, func(o stem) bool {
		return o.hi-o.lo == s.hi-s.lo && (o.lo != s.lo || o.ghost != s.ghost)
	})
}
