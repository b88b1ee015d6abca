package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// addGroup takes a declared counter group, as far as it is of this axis.
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
	if a.row(g) && len(a.groups) < maxStems {
		a.groups = append(a.groups, g)
	}
}

// row says that a group has at least two gaps, and that its stems stand beside
// each other.
func (a *axis) row(g []int) bool {
	for k := 1; k < len(g); k++ {
		if !a.stems[g[k-1]].below(&a.stems[g[k]]) {
			return false
		}
	}
	return len(g) > 2
}

// alikeWithin is how much, in device pixels, distances between stems may differ
// and still be meant to be equal where no group is declared, as in many an m.
const alikeWithin = pixel / 4

// implyGroups finds rows of three stems that no group declares: the outer two
// as wide in pixels as each other and as far from the middle one, as in an m or
// a T with serifs.
func (a *axis) implyGroups() {
	var order []int
	for i := range a.stems {
		if a.stems[i].ghost == face.NoGhost && !a.stems[i].implied && !a.grouped(i) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(a.stems[i].lo - a.stems[j].lo) })
	for k := 0; k+2 < len(order); k++ {
		g := order[k : k+3]
		s, t, u := &a.stems[g[0]], &a.stems[g[1]], &a.stems[g[2]]
		lean := (t.lo + t.hi - s.lo - s.hi) - (u.lo + u.hi - t.lo - t.hi) // twice what the middle one is off
		alike := a.widths.fit(s.hi-s.lo) == a.widths.fit(u.hi-u.lo) && abs(a.scale.of(lean/2)) <= alikeWithin
		if a.row(g) && alike {
			a.groups = append(a.groups, slices.Clone(g))
			k += 2
		}
	}
}

func (a *axis) grouped(i int) bool {
	return slices.ContainsFunc(a.groups, func(g []int) bool { return slices.Contains(g, i) })
}

// equalCounters places the stems of a group with one gap between all of them,
// the whole number of pixels that keeps the mean distance of their centres. A
// stem of the group that a zone holds holds them all. Where zones hold two
// stems and their rows leave no equal gaps, or where the group would grow or
// shrink by more than a pixel, run into a stem outside it, or, where no group is
// declared, let a stem stray, its stems are placed one by one.
func (a *axis) equalCounters(g []int, declared bool) {
	gap := a.meanGap(g)
	at := make([]fixed.Int26_6, len(g)) // lower edges, from the first one's
	for k := 1; k < len(g); k++ {
		at[k] = at[k-1] + a.stems[g[k-1]].width + gap
	}
	base, ok := a.base(g, at)
	last := len(g) - 1
	grown := at[last] - a.apart(&a.stems[g[0]], &a.stems[g[last]])
	if !ok || abs(grown) > pixel {
		return
	}
	for k, i := range g {
		if s := &a.stems[i]; !s.placed && (!declared && a.strays(s, base+at[k]) || !a.clear(s, base+at[k])) {
			return
		}
	}
	for k, i := range g {
		if s := &a.stems[i]; !s.placed {
			s.put(base+at[k], ByCounter)
		}
	}
}

// meanGap is the gap, in whole pixels, of stems as wide as they have become.
func (a *axis) meanGap(g []int) fixed.Int26_6 {
	var sum, least fixed.Int26_6
	for k := 1; k < len(g); k++ {
		s, t := &a.stems[g[k-1]], &a.stems[g[k]]
		sum += a.apart(s, t) - s.width
		least = max(least, a.leastGap(s, t))
	}
	return max(whole(sum/fixed.Int26_6(len(g)-1)), least)
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
