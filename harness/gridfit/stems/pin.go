package stems

import (
	"slices"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// pin places a stem that has an edge in a zone.
func (a *axis) pin(s *stem) {
	bottom, top := -1, -1
	if s.ghost != face.GhostTop && !a.goesOn(s.lo) {
		bottom = catch(a.zones, s.lo, false)
	}
	if s.ghost != face.GhostBottom && !a.goesOn(s.hi) {
		top = catch(a.zones, s.hi, true)
	}
	switch {
	case bottom >= 0 && top >= 0 && a.zones[top].fit(s.hi)-a.zones[bottom].fit(s.lo) >= pixel:
		s.put(a.zones[bottom].fit(s.lo), ByZones)
		s.width, s.zone = a.zones[top].fit(s.hi)-s.low, bottom
	case bottom >= 0:
		s.put(a.zones[bottom].fit(s.lo), ByZone)
		s.zone = bottom
	case top >= 0:
		s.put(a.zones[top].fit(s.hi)-s.width, ByZone)
		s.zone = top
	}
}

// contradicts says that some points have the top of ink where a bar in a zone begins, or the
// bottom where it ends, and not the other: a flat, or a tip, stands on the zone's row where
// the bar is drawn elsewhere from there to the end of the overshoot, and the white inside an O
// ends where the flats of its E stand. They are not fitted by it.
func (a *axis) contradicts(s *stem, points stretch) bool {
	return s.zone >= 0 && s.width > 0 && a.invertedIn(s, points)
}

// solid is how wide a stem must be, in device pixels, to give one up for a
// counter: it is a shape more than a stroke, as the body of an exclamation mark.
const solid = 4 * pixel

// yield makes the free edges common again that two alternatives in zones have in
// common: that of the wider one gives way, by a pixel of every four that it has at most.
func (a *axis) yield() {
	for i := range a.stems {
		for k := range a.stems {
			s, o := &a.stems[i], &a.stems[k]
			if s.by != ByZone || o.by != ByZone || s.zone < 0 || o.zone < 0 || o.hi-o.lo >= s.hi-s.lo {
				continue
			}
			switch top := a.zones[s.zone].top; {
			case top && s.lo == o.lo && 4*abs(s.low-o.low) <= s.width:
				s.low, s.width = o.low, s.high()-o.low
			case !top && s.hi == o.hi && 4*abs(s.high()-o.high()) <= s.width:
				s.width = o.high() - s.low
			}
		}
	}
}

// endWithWider lets a solid upright stem end where two wider ones do that have an edge each in
// common with it: at its own width it would take one of them from its place.
func (a *axis) endWithWider() {
	for i := range a.stems {
		s := &a.stems[i]
		if a.axis == glyph.AxisY || s.width < solid {
			continue
		}
		wider := func(shared func(o *stem) bool) int {
			return slices.IndexFunc(a.stems, func(o stem) bool { return o.hi-o.lo > s.hi-s.lo && o.placed && shared(&o) })
		}
		from := wider(func(o *stem) bool { return o.lo == s.lo })
		to := wider(func(o *stem) bool { return o.hi == s.hi })
		if from < 0 || to < 0 {
			continue
		}
		if low, width := a.stems[from].low, a.stems[to].high()-a.stems[from].low; 4*abs(width-s.width) <= s.width {
			s.low, s.width = low, width
		}
	}
}

// open keeps the counters between stems that zones hold: the free edge of a
// solid one gives way, or of one of two pixels and more that is hardly longer than
// wide, as a dot or an accent.
func (a *axis) open() {
	for i := range a.stems {
		for k := range a.stems {
			lower, upper := &a.stems[i], &a.stems[k]
			if i == k || !lower.placed || !upper.placed || !lower.below(upper) {
				continue
			}
			lack := a.leastGap(lower, upper) - (upper.low - lower.high())
			switch {
			case lack <= 0 || lack > pixel:
			case a.gives(upper) && a.zones[upper.zone].top && upper.by == ByZone:
				upper.low, upper.width = upper.low+lack, upper.width-lack
			case a.gives(lower) && !a.zones[lower.zone].top && lower.by == ByZone:
				lower.width -= lack
			}
		}
	}
}

func (a *axis) gives(s *stem) bool { return s.width >= solid || s.width > pixel && a.short(s) }

// crosses says that a stem no zone holds leaves no room for ink that the outline
// has in it, up to an edge which a zone holds and the stem goes well beyond: as
// one made of the round and the horn of an O. The zone stands, and the stem is
// left out.
func (a *axis) crosses(s *stem) bool {
	return s.zone < 0 && slices.ContainsFunc(a.stems, func(o stem) bool {
		switch {
		case !o.implied || o.lo != o.hi || o.lo <= s.lo || o.lo >= s.hi:
			return false
		case o.ghost == face.GhostTop:
			return a.scale.of(s.hi-o.lo) >= pixel && o.low <= s.low
		}
		return a.scale.of(o.lo-s.lo) >= pixel && o.low >= s.high()
	})
}
