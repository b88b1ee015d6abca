package diff

import "math"

// importance is what the change of one pixel would weigh on this drawing: its
// sensitivity by the direction of the edge nearby, raised where the edge is
// straight, and where the pixel is all that joins two strokes.
func (j *Judge) importance(p *plane, k int, near tensor) float64 {
	w := j.edges.sensitivity(&j.eye, near)
	if p.joins(k) {
		w += partedGain
	}
	return j.eye.area * w
}

// edgeTable remembers how edges are seen: bilevel drawings have few that differ, and powers and
// angles are dear. An edge has one place in it, where it is worked out again if another one was there.
type edgeTable []seenEdge

type seenEdge struct {
	tensor
	sensitivity float64
}

const edgeBits = 15 // of a place

func (t *edgeTable) sensitivity(e *eye, near tensor) float64 {
	if near == (tensor{}) { // all is of one colour
		return e.diagonal
	}
	if *t == nil {
		*t = make(edgeTable, 1<<edgeBits)
	}
	s := &(*t)[near.hash()>>(64-edgeBits)]
	if s.tensor != near {
		theta, straight := near.edge()
		*s = seenEdge{near, e.sensitivity(theta) + coherentGain*axial(theta)*straight}
	}
	return s.sensitivity
}

func (t tensor) hash() uint64 {
	return (uint64(t.xx)*31+uint64(t.yy))*0x9E3779B97F4A7C15 + uint64(t.xy)*0xD6E8FEB86659FD93
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
