package stems

import (
	"math"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// settle tries the whole pixels about a stem's wish and takes the cheapest.
func (a *axis) settle(s *stem) {
	near := a.neighbours(s, anywhere)
	facing := a.facing(s, near)
	floor, ceiling := a.held(s)
	wish := whole(a.wish(s))
	best, least := wish, int64(-1)
	for _, step := range [...]fixed.Int26_6{0, -1, 1, -2, 2} {
		low := wish + step*pixel
		past := max(0, floor-low, low+s.width-ceiling)
		if c := a.cost(s, low, near) + max(a.closes(s, low, near), a.closes(s, low, facing)) + closed*int64(past); least < 0 || c < least {
			best, least = low, c
		}
	}
	s.put(best, ByOrder)
}

// held are the rows that a bar may not pass: those where zones hold edges as far out as its own.
func (a *axis) held(s *stem) (floor, ceiling fixed.Int26_6) {
	floor, ceiling = math.MinInt32/2, math.MaxInt32/2
	for i := range a.stems {
		switch o := &a.stems[i]; {
		case o.zone < 0 || o == s:
		case a.zones[o.zone].top && o.hi >= s.hi:
			ceiling = min(ceiling, o.high())
		case !a.zones[o.zone].top && o.lo <= s.lo:
			floor = max(floor, o.low)
		}
	}
	return floor, ceiling
}

// closed is the cost, per 64th of a pixel that a counter lacks: a whole pixel of
// it weighs as much as a stem two pixels off.
const closed = int64(4 * pixel)

// cost of a place: the squares of what the stem is off its wish and off its
// distance from either neighbour.
func (a *axis) cost(s *stem, low fixed.Int26_6, n neighbours) int64 {
	c := square(low - a.wish(s))
	c += strayed * int64(a.misleads(s, low))
	if a.axis == glyph.AxisX && a.strays(s, low) {
		c += strayed
		if !a.hardly(s, low) {
			c += strayed
		}
	}
	if n.below != nil {
		c += square(low - n.below.low - a.apart(n.below, s))
	}
	if n.above != nil {
		c += square(n.above.low - low - a.apart(s, n.above))
	}
	return c
}

// closes is what it costs that a place closes the counters on either side.
func (a *axis) closes(s *stem, low fixed.Int26_6, n neighbours) (c int64) {
	if n.below != nil {
		c += a.narrow(n.below, s, low-n.below.high())
	}
	if n.above != nil {
		c += a.narrow(s, n.above, n.above.low-low-s.width)
	}
	return c
}

// narrow is the cost of the gap between two stems: of what a counter lacks, and four
// times that of an overlap where both are in force, which leaves room for one only; twice
// as much where the white begins at a row that a zone holds, which is to be seen, and half
// where the bars are only near each other's side.
func (a *axis) narrow(lower, upper *stem, gap fixed.Int26_6) int64 {
	if gap >= pixel {
		return 0 // as wide as any must be
	}
	lack := max(0, a.leastGap(lower, upper)-gap)
	if a.axis == glyph.AxisX && lower.together(upper) {
		lack += 3 * max(0, -gap)
	}
	switch {
	case a.onRow(lower, upper):
		lack *= 2
	case a.axis == glyph.AxisY && lack > 0 && lower.ghost == upper.ghost && a.between(lower, upper) == pixel/2:
		lack /= 2
	}
	return closed * int64(lack)
}

// onRow says that the white between two bars begins at a row that a zone holds.
func (a *axis) onRow(lower, upper *stem) bool {
	return lower.zone >= 0 && a.zones[lower.zone].top || upper.zone >= 0 && !a.zones[upper.zone].top
}

func square(v fixed.Int26_6) int64 { return int64(v) * int64(v) }
