package stems

// excursions places what a contour draws beside the upright stems it left from
// and comes back to, as a serif does: at its scaled distance from the edge it is
// beyond, whatever other stem stands there elsewhere in the glyph. So the two
// serifs of a stem stay mirror images. What lies between those stems or within
// them stays where the course has it, and so does a contour that touches no
// edge. Along Y the course holds throughout: an accent must keep clear of the
// letter under it.
func (f *Fitter) excursions(from, end int) {
	drawn, out, held := f.drawn.Points[from:end], f.out.Points[from:end], f.held[from:end]
	n := len(drawn)
	first := 0
	for first < n && !held[first].on {
		first++
	}
	if first == n {
		return
	}
	for i := first; i < first+n; {
		next := i + 1
		for !held[next%n].on {
			next++
		}
		a, b := &held[i%n], &held[next%n]
		low, high := a.low, b.high
		if b.low.from < low.from {
			low = b.low
		}
		if a.high.from > high.from {
			high = a.high
		}
		for k := i + 1; k < next; k++ {
			switch x := drawn[k%n].X; {
			case x < low.from:
				out[k%n].X = low.to - f.x.scale.of(low.from-x)
			case x > high.from:
				out[k%n].X = high.to + f.x.scale.of(x-high.from)
			}
		}
		i = next
	}
}
