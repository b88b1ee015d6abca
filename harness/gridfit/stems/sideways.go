package stems

import "golang.org/x/image/math/fixed"

// sidle tries every sixteenth of a pixel to both sides for the placement of the
// whole glyph at which its stems are least off, the smallest where several are,
// and places the stems there.
func (a *axis) sidle() {
	const step = pixel / 16
	best, least := fixed.Int26_6(0), int64(-1)
	for n := fixed.Int26_6(0); n < pixel; n += step {
		for _, shift := range [...]fixed.Int26_6{n, -n} {
			a.shift = shift
			a.place()
			if c := a.misfit(); least < 0 || c < least {
				best, least = shift, c
			}
		}
	}
	a.shift = best
	a.place()
}

// misfit sums the squares of what stems are off their wishes and their distances.
func (a *axis) misfit() (sum int64) {
	for i := range a.stems {
		s := &a.stems[i]
		sum += square(s.low - a.wish(s))
		for k := range a.stems {
			if o := &a.stems[k]; s.below(o) {
				sum += square(o.low - s.low - a.apart(s, o))
			}
		}
	}
	return sum
}
