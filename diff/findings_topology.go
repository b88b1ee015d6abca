package diff

import (
	"math"
	"slices"
	"strconv"
)

// topology names ink that parts, joins or fills.
func (k *trial) topology() {
	for i := range k.edits {
		e := &k.edits[i]
		if pixels := k.unclaimed(e.pixels); e.effect != unchanged && len(pixels) > 0 {
			k.claim(k.broken(e, pixels), pixels)
		}
	}
}

// broken is the finding of an edit that changes the shape.
func (k *trial) broken(e *edit, pixels []int) Finding {
	f := Finding{Kind: Break, MeasurePx: e.amount()}
	if !e.gain {
		f.MeasurePx = -f.MeasurePx
	}
	one, area := math.Min(k.j.eye.minutesX, k.j.eye.minutesY), k.j.eye.spot(float64(len(pixels)))
	switch {
	case e.effect == filled && e.gain:
		f.Kind, f.Severity = CounterClosed, severityOf(CounterClosed, area)
		f.Text = "a counter is filled: " + pixelCount(len(pixels)) + " of white"
	case e.effect == filled:
		f.Severity = spot.of(area)
		f.Text = "a hole opens in the ink: " + pixelCount(len(pixels))
	case e.gain:
		f.Kind, f.Severity = Bridge, severityOf(Bridge, one)
		f.Text = "two strokes run together over " + pixelCount(len(pixels))
		if s := k.joining(pixels); s != nil {
			f.Text = s.name + " that the golden lacks joins two strokes: " + extent(*s)
		}
	default:
		f.Severity = severityOf(Break, one)
		f.Text = "a stroke is parted: " + pixelCount(len(pixels)) + " of ink gone"
	}
	return f
}

// spot is the angle of a spot of so many pixels: the root of its area.
func (e *eye) spot(px float64) float64 { return math.Sqrt(e.area * px) }

// islands names parts of ink that are gone or new, but for those that are a
// straight stem or bar.
func (k *trial) islands() {
	for i := range k.edits {
		e := &k.edits[i]
		pixels := k.unclaimed(e.pixels)
		if e.effect != island || len(pixels) == 0 || k.isLimb(e) {
			continue
		}
		f := Finding{
			Kind: choose(e.gain, Extra, Missing), Severity: spot.of(k.j.eye.spot(float64(len(pixels)))),
			MeasurePx: choose(e.gain, 1.0, -1) * e.amount(), Place: Place{What: k.nameIsland(e)},
		}
		f.Text = f.Place.What + choose(e.gain, " that the golden lacks: ", " is missing: ") + pixelCount(len(pixels))
		k.claim(f, pixels)
	}
}

// isLimb says that an edit is one straight limb and little else.
func (k *trial) isLimb(e *edit) bool {
	return slices.ContainsFunc(k.limbs, func(s namedLimb) bool {
		return s.course == nil && s.candidate == e.gain && float64(k.inside(&s, e.pixels)) >= wholeShare*float64(len(e.pixels))
	})
}

// joining is the new limb that is most of the ink which joins strokes, if one is.
func (k *trial) joining(pixels []int) *namedLimb {
	for i := range k.limbs {
		s := &k.limbs[i]
		if s.candidate && s.course == nil && lostOf(k.gone(*s)) && 2*k.inside(s, pixels) >= len(pixels) {
			return s
		}
	}
	return nil
}

// inside counts the pixels in the box of a limb.
func (k *trial) inside(s *namedLimb, pixels []int) int {
	n := 0
	for _, i := range pixels {
		if s.has(i%k.d.golden.w, i/k.d.golden.w) {
			n++
		}
	}
	return n
}

// nameIsland says which part of the letter an edit is; a speck where it is
// small.
func (k *trial) nameIsland(e *edit) string {
	if e.gain && len(e.pixels) <= speckPixels {
		return "speck"
	}
	list := choose(e.gain, k.candidate.ink, k.golden.ink)
	names := nameParts(list, k.p.Golden.Advance, k.p.Golden.Code)
	for i := range list {
		if slices.Contains(list[i].pixels, e.pixels[0]) {
			return names[i]
		}
	}
	return "part"
}

// counters names counters that a solid patch of ink fills in part. A stroke
// that grew by a pixel along a counter is none.
func (k *trial) counters() {
	golden := k.golden.counters()
	for i := range k.edits {
		e := &k.edits[i]
		if !e.gain {
			continue
		}
		for j := range golden {
			c := &golden[j]
			list, filled := k.filledPart(e, c)
			if !filled {
				continue
			}
			k.claim(Finding{
				Kind: CounterClosed, Severity: severityOf(CounterClosed, k.j.eye.spot(float64(len(list)))), MeasurePx: float64(len(list)), Place: Place{What: "counter"},
				Text: "a counter is filled in part: " + strconv.Itoa(len(list)) + " of its " + pixelCount(len(c.pixels)) + " of white",
			}, list)
		}
	}
}

// filledPart is what the ink of an edit turned of a counter; it says whether that is a patch.
func (k *trial) filledPart(e *edit, c *part) (list []int, patch bool) {
	if e.x0 <= c.x0 && e.x1 >= c.x1 && e.y0 <= c.y0 && e.y1 >= c.y1 {
		return nil, false // heavier all round
	}
	for _, p := range k.unclaimed(e.pixels) {
		if slices.Contains(c.pixels, p) && hard(k.d.golden.v[p], k.d.candidate.v[p]) {
			list = append(list, p)
		}
	}
	if float64(len(list)) < partlyShare*float64(len(c.pixels)) {
		return nil, false
	}
	depth := deepest(list, k.d.golden.w)
	return list, depth >= 2 && float64(depth) >= partlyShare*float64(min(c.width(), c.height()))
}

// deepest is the side of the largest square of pixels within a set.
func deepest(pixels []int, w int) int {
	list := slices.Clone(pixels)
	slices.Sort(list)
	side, most := make(map[int]int, len(list)), 0
	for _, i := range list {
		side[i] = 1 + min(side[i-1], side[i-w], side[i-w-1])
		most = max(most, side[i])
	}
	return most
}
