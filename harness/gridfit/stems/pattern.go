package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"
)

// findPattern finds the dots of a pattern, as shade is: four stems as wide, and more, that
// follow each other. No zone holds such a dot, and where there is no room for a standard
// width, or a bold one, it is as wide as it is drawn.
func (a *axis) findPattern() {
	for i := range a.stems {
		row := []*stem{&a.stems[i]}
		for k := 0; k < len(a.stems); k++ {
			if s := &a.stems[k]; s.follows(row[len(row)-1]) {
				row, k = append(row, s), -1
			}
		}
		for k := 0; len(row) > 3 && k < len(row); k++ {
			row[k].pitch = row[1].lo - row[0].lo
		}
	}
}

// follows says that a stem begins where one as wide ends, or a tenth of that further.
func (s *stem) follows(o *stem) bool {
	width := o.hi - o.lo
	return width > 0 && s.hi-s.lo == width && 10*abs(s.lo-o.hi) <= width
}

// goesOn says that a dot of a pattern ends or begins at a place and another one follows:
// there is no edge that a zone could hold.
func (a *axis) goesOn(y fixed.Int26_6) bool {
	near := func(v fixed.Int26_6) bool { return abs(v-y) <= shownWithin }
	return slices.ContainsFunc(a.stems, func(s stem) bool {
		return s.pitch > 0 && slices.ContainsFunc(a.stems, func(o stem) bool {
			return o.follows(&s) && near(s.hi) || s.follows(&o) && near(s.lo)
		})
	})
}
