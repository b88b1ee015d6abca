package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// joinAll places what shares an edge with a stem placed before, and what shares
// one with that.
func (a *axis) joinAll() {
	for again := true; again; {
		again = false
		for i := range a.stems {
			if s := &a.stems[i]; !s.placed && a.join(s) {
				again = true
			}
		}
	}
}

// join places a stem that shares an edge with one placed before: first an
// alternative with the same lower or upper edge, or nearly the same place, then a
// neighbour it touches.
func (a *axis) join(s *stem) bool {
	for _, common := range [...]func(s, o *stem) (fixed.Int26_6, bool){alternative, a.alike, neighbour} {
		for i := range a.stems {
			o := &a.stems[i]
			if !o.placed || o == s {
				continue
			}
			if low, ok := common(s, o); ok && a.clear(s, low) && (a.axis == glyph.AxisY || !a.strays(s, low)) {
				s.put(low, ByEdge)
				return true
			}
		}
	}
	return false
}

// alternative is where the lower edge of s goes so that the edge it has in
// common with o is common after fitting too.
func alternative(s, o *stem) (low fixed.Int26_6, ok bool) {
	switch {
	case s.lo == o.lo:
		return o.low, true
	case s.hi == o.hi:
		return o.high() - s.width, true
	}
	return 0, false
}

// neighbour is the same for a stem that begins where another ends.
func neighbour(s, o *stem) (low fixed.Int26_6, ok bool) {
	switch {
	case s.lo == o.hi:
		return o.high(), true
	case s.hi == o.lo:
		return o.low - s.width, true
	}
	return 0, false
}

// alike puts s where o is if neither edge is more than a quarter of a pixel from
// its own: the two serifs of a stem may be drawn under the one and the other.
func (a *axis) alike(s, o *stem) (low fixed.Int26_6, ok bool) {
	near := func(v, w fixed.Int26_6) bool { return abs(a.scale.of(v-w)) <= alikeWithin }
	return o.low, s.ghost == o.ghost && s.width == o.width && near(s.lo, o.lo) && near(s.hi, o.hi)
}

// shares says that another stem was placed by an edge in common with this one, or of bars in
// its place.
func (a *axis) shares(s *stem) bool {
	return slices.ContainsFunc(a.stems, func(o stem) bool {
		if o.by != ByEdge {
			return false
		}
		_, alike := a.alike(&o, s)
		return o.lo == s.lo || o.lo == s.hi || o.hi == s.lo || o.hi == s.hi || a.axis == glyph.AxisY && alike && o.low == s.low
	})
}
