package raster

import "math/bits"

// inside gives the pixels of a tally whose winding number is not zero, from the number on its
// left, and that on its right.
func (t *tally) inside(winding int) (in uint64, after int) {
	climb, fall := t.up&^t.down, t.down&^t.up // in a gap of both they cancel each other
	after = winding + bits.OnesCount64(climb) - bits.OnesCount64(fall)
	if uint(winding|after) <= 1 {
		if in = between(climb, fall) - uint64(after); inTurn(climb, fall, in) {
			return in, after
		}
	}
	if uint(-winding|-after) <= 1 {
		if in = between(fall, climb) - uint64(-after); inTurn(fall, climb, in) {
			return in, after
		}
	}
	return wound(climb, fall, winding), after
}

// between is the pixels from each of the ones that go in to the next that goes out, where they take
// turns: a row of ones in a word is the difference of two powers of two.
func between(in, out uint64) uint64 { return (in - out) << 1 }

// inTurn says that the edges took turns to go in and out.
func inTurn(in, out, pixels uint64) bool { return in&^pixels|out&pixels == 0 }

// wound counts the winding number from edge to edge.
func wound(climb, fall uint64, winding int) (in uint64) {
	rest := ^uint64(0) // the pixels from the last edge on
	for edges := climb | fall; ; {
		edge := bits.LeadingZeros64(edges)
		next := ^uint64(0) >> edge
		if winding != 0 {
			in |= rest &^ next
		}
		if edges == 0 {
			return in
		}
		bit := uint64(1) << 63 >> edge
		if climb&bit != 0 {
			winding++
		} else {
			winding--
		}
		edges &^= bit
		rest = next
	}
}
