package diff

import "math"

// importance is what the change of one pixel would weigh on this drawing: its
// sensitivity by the direction of the edge nearby, raised where the edge is
// straight, and where the pixel is all that joins two strokes.
func (e *eye) importance(p *plane, k int, near tensor) float64 {
	theta, straight := near.edge()
	w := e.sensitivity(theta) + coherentGain*axial(theta)*straight
	if p.joins(k) {
		w += partedGain
	}
	return e.area * w
}

// axial is 1 along an axis and 0 at 45 degrees.
func axial(theta float64) float64 { return math.Abs(math.Cos(2 * theta)) }

// weight is the visual weight of one changed pixel among those of its edit. It
// depends on the edit and on what it parts or joins alone, so it is the same
// from either side. A pixel in a longer straight row or column of changed
// pixels weighs more, as a displaced edge is seen where a stray pixel is not;
// so an edit that grows never weighs less.
func (e *eye) weight(line int, parted bool) float64 {
	n := float64(line)
	v := e.sensitivity(math.Atan(1/n)) + coherentGain*(1-1/n)
	if parted {
		v += partedGain
	}
	return e.area * v
}

// run counts the pixels of one label in one line through k, up to longestRun
// each way. No label reaches the margin.
func run(label []int32, own int32, k, step int) int {
	return 1 + reach(label, own, k, step) + reach(label, own, k, -step)
}

func reach(label []int32, own int32, k, step int) int {
	n := 0
	for n < longestRun && label[k+(n+1)*step] == own {
		n++
	}
	return n
}
