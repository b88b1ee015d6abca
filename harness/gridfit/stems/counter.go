package stems

import (
	"math"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// addGroup takes a declared counter group, as far as it is of this axis. Of a group whose gaps are no row of equal
// ones, as in many an ideograph, it takes the rows of them: see alikeCounters.
func (a *axis) addGroup(hints []int) {
	var g []int
	for _, h := range hints[:min(len(hints), maxStems)] {
		if h < 0 || h >= len(a.index) || a.index[h] < 0 || slices.Contains(g, a.index[h]) {
			continue
		}
		if a.stems[a.index[h]].ghost == face.NoGhost {
			g = append(g, a.index[h])
		}
	}
	slices.SortFunc(g, func(i, j int) int { return int(a.stems[i].lo - a.stems[j].lo) })
	if !a.row(g) {
		return
	}
	for from := 0; from < len(g)-1 && len(a.groups) < maxStems; {
		to := a.rowFrom(g, from)
		if to-from > 1 {
			a.groups = append(a.groups, g[from:to+1])
		}
		from = to
	}
}

// alikeCounters is how much, in device pixels, the gaps of a declared group may differ as drawn and still be
// meant to be equal.
const alikeCounters = pixel

// rowFrom is the last stem of a group of which the gaps from another stem on are alike.
func (a *axis) rowFrom(g []int, from int) (to int) {
	least, most := fixed.Int26_6(math.MaxInt32), fixed.Int26_6(0)
	for to = from; to+1 < len(g); to++ {
		gap := a.scale.of(a.stems[g[to+1]].lo - a.stems[g[to]].hi)
		if least, most = min(least, gap), max(most, gap); most-least > alikeCounters {
			break
		}
	}
	return to
}

// row says that a group has at least two gaps, with white between its stems: where
// they touch, as in a stroke declared in three, there is no counter.
func (a *axis) row(g []int) bool {
	for k := 1; k < len(g); k++ {
		if a.stems[g[k-1]].hi >= a.stems[g[k]].lo {
			return false
		}
	}
	return len(g) > 2
}

// alikeWithin is how much, in device pixels, the places of two alternatives may
// differ and still be meant to be one; and distances between stems where no group
// is declared, as in many an m.
const alikeWithin = pixel / 4

// implyGroups finds rows of three stems and more that no group declares, evenly
// spaced, as in an m, a T with serifs or a line of dots.
func (a *axis) implyGroups() {
	var order []int
	for i := range a.stems {
		if a.stems[i].ghost == face.NoGhost && !a.stems[i].implied && !a.grouped(i) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(a.stems[i].lo - a.stems[j].lo) })
	for k := 0; k+2 < len(order); k++ {
		end := k + 2
		for end < len(order) && a.even(order[end-2:end+1]) {
			end++
		}
		if end > k+2 {
			a.groups = append(a.groups, slices.Clone(order[k:end]))
			k = end - 1
		}
	}
}

// even says that of three stems the outer two are as wide in pixels as each other and
// as far from the middle one.
func (a *axis) even(g []int) bool {
	s, t, u := &a.stems[g[0]], &a.stems[g[1]], &a.stems[g[2]]
	lean := (t.lo + t.hi - s.lo - s.hi) - (u.lo + u.hi - t.lo - t.hi) // twice what the middle one is off
	return a.row(g) && a.widths.fit(s.hi-s.lo) == a.widths.fit(u.hi-u.lo) && abs(a.scale.of(lean/2)) <= alikeWithin
}

func (a *axis) grouped(i int) bool {
	return slices.ContainsFunc(a.groups, func(g []int) bool { return slices.Contains(g, i) })
}

// equalCounters places the stems of a group with one gap between all of them: the
// whole number of pixels that keeps the mean distance of their centres, or a
// pixel less or more where that keeps the outer edges of the group, and what follows
// its stems, from straying; not so where none declares the group and some of it is
// above the rest, as an accent. A stem of the group that a zone holds holds them all.
// Where none of these does, the stems are placed one by one; but those of a declared
// group may go further, by a pixel in all.
func (a *axis) equalCounters(g []int, declared bool) {
	mean, least := a.meanGap(g)
	near := func(at []fixed.Int26_6) bool { return !a.groupStrays(g, at) }
	for _, gap := range [...]fixed.Int26_6{mean, mean - pixel, mean + pixel} {
		if gap >= least && (gap == mean || declared || a.abreast(g)) && a.space(g, gap, near) {
			return
		}
	}
	first, last := &a.stems[g[0]], &a.stems[g[len(g)-1]]
	within := func(at []fixed.Int26_6) bool { return abs(at[len(g)-1]-at[0]-a.apart(first, last)) <= pixel }
	if declared {
		a.space(g, mean, within)
	}
}

// abreast says that each stem of a group has the next one beside it.
func (a *axis) abreast(g []int) bool {
	for k := 1; k < len(g); k++ {
		if !a.beside(&a.stems[g[k-1]], &a.stems[g[k]]) {
			return false
		}
	}
	return true
}

// groupStrays says that a group placed at some lower edges has an outer edge, or the
// centre of a bar, more than a pixel from where it would be if it were only scaled, or
// misleads others.
func (a *axis) groupStrays(g []int, at []fixed.Int26_6) bool {
	n := len(g) - 1
	first, last := &a.stems[g[0]], &a.stems[g[n]]
	for k, i := range g {
		if s := &a.stems[i]; a.axis == glyph.AxisY && abs(at[k]-a.wish(s)) > pixel || a.misleads(s, at[k]) > 0 {
			return true
		}
	}
	return a.off(at[0], first.lo) > pixel || a.off(at[n]+last.width, last.hi) > pixel
}

// space places a group with a gap, if where that puts lower edges will do.
func (a *axis) space(g []int, gap fixed.Int26_6, will func(at []fixed.Int26_6) bool) bool {
	at := make([]fixed.Int26_6, len(g)) // from the first one's
	for k := range g {
		if k > 0 {
			at[k] = at[k-1] + a.stems[g[k-1]].width + gap
		}
	}
	base, ok := a.base(g, at)
	for k, i := range g {
		s := &a.stems[i]
		at[k] += base
		ok = ok && (s.placed || a.clear(s, at[k]))
	}
	if !ok || !will(at) {
		return false
	}
	for k, i := range g {
		if s := &a.stems[i]; !s.placed {
			s.put(at[k], ByCounter)
		}
	}
	return true
}

// meanGap is the gap, in whole pixels, of stems as wide as they have become, and
// the least that keeps their counters open.
func (a *axis) meanGap(g []int) (mean, least fixed.Int26_6) {
	var sum fixed.Int26_6
	for k := 1; k < len(g); k++ {
		s, t := &a.stems[g[k-1]], &a.stems[g[k]]
		sum += a.apart(s, t) - s.width
		least = max(least, a.leastGap(s, t))
	}
	return max(whole(sum/fixed.Int26_6(len(g)-1)), least), least
}

// base is where the first stem of a group goes: as a zone demands, else where
// the whole group lies nearest to its wishes.
func (a *axis) base(g []int, at []fixed.Int26_6) (base fixed.Int26_6, ok bool) {
	held := false
	var sum fixed.Int26_6
	for k, i := range g {
		s := &a.stems[i]
		sum += a.wish(s) - at[k]
		if !s.placed {
			continue
		}
		if held && s.low-at[k] != base {
			return 0, false
		}
		base, held = s.low-at[k], true
	}
	if !held {
		base = whole(sum / fixed.Int26_6(len(g)))
	}
	return base, true
}
