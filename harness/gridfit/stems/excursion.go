package stems

import "smokeproof/harness/glyph"

// excursions places what a contour draws beyond the edges it left from and comes
// back to, as a serif does: at its scaled distance from the edge it is beyond,
// whatever other stem stands there elsewhere in the glyph. So the two serifs of a
// stem stay mirror images. Points between those two edges stay where the course
// has them, and so does a contour that touches no edge.
func (a *axis) excursions(drawn, out []glyph.Point, held [][2]bool) {
	n := len(drawn)
	first := 0
	for first < n && !held[first][a.axis] {
		first++
	}
	if first == n {
		return
	}
	for i := first; i < first+n; {
		next := i + 1
		for !held[next%n][a.axis] {
			next++
		}
		from, to := i%n, next%n
		lo, hi := from, to
		if *along(&drawn[lo], a.axis) > *along(&drawn[hi], a.axis) {
			lo, hi = hi, lo
		}
		for k := i + 1; k < next; k++ {
			a.carry(drawn, out, lo, hi, k%n)
		}
		i = next
	}
}

// carry places point k if it lies beyond the points lo and hi.
func (a *axis) carry(drawn, out []glyph.Point, lo, hi, k int) {
	at := *along(&drawn[k], a.axis)
	if l := *along(&drawn[lo], a.axis); at < l {
		*along(&out[k], a.axis) = *along(&out[lo], a.axis) - a.scale.of(l-at)
	}
	if h := *along(&drawn[hi], a.axis); at > h {
		*along(&out[k], a.axis) = *along(&out[hi], a.axis) + a.scale.of(at-h)
	}
}
