package diff

import "slices"

// lostLimbs names stems and bars that are gone, and those that are new. New
// ink that joins or fills is left to the topology.
func (k *trial) lostLimbs() {
	for _, s := range k.limbs {
		list := k.flank(s.limb).pixels
		gone, own := k.gone(s)
		if !k.turned(list) || !lostOf(gone, own) {
			continue
		}
		thickness := float64(s.thickness())
		minutes := k.minutes(s.bar) * thickness
		switch {
		case !s.candidate:
			kind := choose(s.bar, BarLost, StemLost)
			k.claim(Finding{
				Kind: kind, Severity: severityOf(kind, minutes), MeasurePx: -thickness, Place: Place{What: s.name},
				Text: s.name + " is gone" + choose(float64(gone) < wholeShare*float64(own), " over "+pixels(float64(gone))+" of its length", "") + ": " + extent(s) + " in the golden",
			}, list)
		case !slices.ContainsFunc(list, func(i int) bool { return k.editOf(i).effect != unchanged }):
			k.claim(Finding{
				Kind: Extra, Severity: max(Major, severityOf(StemWeight, minutes)), MeasurePx: thickness, Place: Place{What: s.name},
				Text: s.name + " that the golden lacks: " + extent(s),
			}, list)
		}
	}
}

func lostOf(gone, own int) bool {
	return gone >= minLimb && float64(gone) >= lostShare*float64(own)
}

// emptied tells of each edit whether a limb of either side went with it. Such an
// edit weighs as one that parts strokes: a gap that grows until nothing is left
// to part must not weigh less.
func (k *trial) emptied() {
	for _, s := range k.limbs {
		if !lostOf(k.gone(s)) {
			continue
		}
		for n := range s.length() {
			for _, i := range k.line(s.limb, n) {
				if e := k.editOf(i); e != nil && e.gain == s.candidate {
					e.empties = true
				}
			}
		}
	}
}

// gone counts the lines across a limb which are its own, and those of them that
// have no ink on the other side, nor beside it.
func (k *trial) gone(s namedLimb) (empty, own int) {
	has, lacks := k.sides(s.candidate)
	step, line := 1, has.w
	if s.bar {
		step, line = line, step
	}
	for n := range s.length() {
		a := s.from() + n
		lo, hi := s.across(n)
		if i := a*line + lo*step; has.ink(i-step) || !has.ink(i) || has.ink(a*line+hi*step) {
			continue
		}
		own++
		left := 0
		for c := lo - 1; c <= hi; c++ {
			if lacks.ink(a*line + c*step) {
				left++
			}
		}
		if left == 0 {
			empty++
		}
	}
	return empty, own
}
