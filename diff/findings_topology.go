package diff

import (
	"math"
	"slices"
	"strconv"
)

// topology names ink that parts, joins or fills, and parts of ink that are
// gone or new.
func (k *trial) topology(e *edit, c change) {
	pixels := k.unclaimed(e.pixels)
	if c == unchanged || len(pixels) == 0 {
		return
	}
	f := Finding{Kind: Break, MeasurePx: e.amount()}
	if !e.gain {
		f.MeasurePx = -f.MeasurePx
	}
	one := math.Min(k.j.eye.minutesX, k.j.eye.minutesY)
	f.Severity = severityOf(Break, one)
	switch {
	case c == island:
		f.Kind, f.Severity = choose(e.gain, Extra, Missing), spot.of(k.j.eye.spot(len(e.pixels)))
		f.Place.What = k.nameIsland(e)
		f.Text = f.Place.What + choose(e.gain, " that the approved bitmap lacks: ", " is missing: ") + pixelCount(len(e.pixels))
	case c == filled && e.gain:
		f.Kind, f.Severity = CounterClosed, severityOf(CounterClosed, one)
		f.Text = "a counter is filled: " + pixelCount(len(pixels)) + " of white"
	case c == filled:
		f.Severity = spot.of(k.j.eye.spot(len(pixels)))
		f.Text = "a hole opens in the ink: " + pixelCount(len(pixels))
	case e.gain:
		f.Kind, f.Severity = Bridge, severityOf(Bridge, one)
		f.Text = "two strokes run together over " + pixelCount(len(pixels))
	default:
		f.Text = "a stroke is parted: " + pixelCount(len(pixels)) + " of ink gone"
	}
	k.claim(f, pixels)
}

// spot is the angle of a spot of n pixels: the root of its area.
func (e *eye) spot(n int) float64 { return math.Sqrt(e.area * float64(n)) }

// nameIsland says which part of the letter an edit is; a speck where it is
// small beside the rest.
func (k *trial) nameIsland(e *edit) string {
	has, _ := k.sides(e)
	list := has.inkParts(&k.j.desk)
	names := nameParts(list)
	for i := range list {
		if slices.Contains(list[i].pixels, e.pixels[0]) {
			if e.gain && len(e.pixels) <= speckPixels {
				return "speck"
			}
			return names[i]
		}
	}
	return "part"
}

// counters names counters that a solid patch of ink fills in part. A stroke
// that grew by a pixel along a counter is none.
func (k *trial) counters(edits []edit) {
	golden := k.d.golden.counters(&k.j.desk)
	for i := range edits {
		e := &edits[i]
		if !e.gain {
			continue
		}
		for j := range golden {
			c := &golden[j]
			var list []int
			for _, p := range k.unclaimed(e.pixels) {
				if slices.Contains(c.pixels, p) && hard(k.d.golden.v[p], k.d.candidate.v[p]) {
					list = append(list, p)
				}
			}
			if float64(len(list)) < partlyShare*float64(len(c.pixels)) {
				continue
			}
			depth := deepest(list, k.d.golden.w)
			if depth < 2 || float64(depth) < partlyShare*float64(min(c.width(), c.height())) {
				continue
			}
			minutes := float64(depth) * math.Min(k.j.eye.minutesX, k.j.eye.minutesY)
			k.claim(Finding{
				Kind: CounterClosed, Severity: partly.of(minutes), MeasurePx: float64(len(list)), Place: Place{What: "counter"},
				Text: "a counter is filled in part: " + strconv.Itoa(len(list)) + " of its " + pixelCount(len(c.pixels)) + " of white",
			}, list)
		}
	}
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
