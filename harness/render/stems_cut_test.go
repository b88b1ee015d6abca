package render

import (
	"cmp"
	"math"
	"slices"
)

// cut says whether the outline's ink, where the stem is measured, reaches from
// one of its edges to the other and no further, and how much white there is
// beside it.
func (s *stemFeature) cut(contours [][]point) bool {
	type crossing struct {
		x    float64
		wind int
	}
	var all []crossing
	at := s.across + 1.0/128 // beside any point of the outline
	for _, c := range contours {
		flat := flattened(c)
		for i := range flat {
			p, q := turned(flat[i], s.axis), turned(flat[(i+1)%len(flat)], s.axis)
			if (p.y < at) != (q.y < at) {
				wind := 1
				if q.y < p.y {
					wind = -1
				}
				all = append(all, crossing{p.x + (q.x-p.x)*(at-p.y)/(q.y-p.y), wind})
			}
		}
	}
	slices.SortFunc(all, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
	wind, from, last := 0, 0.0, math.Inf(-1)
	found := false
	s.clear = math.Inf(1)
	for _, c := range all {
		before := wind
		wind += c.wind
		switch {
		case before == 0:
			from = c.x
			if found {
				s.clear = min(s.clear, from-last)
				return true
			}
		case wind == 0:
			if found = math.Abs(from-s.lo) <= 1 && math.Abs(c.x-s.hi) <= 1; found {
				s.clear = from - last
			}
			last = c.x
		}
	}
	return found
}

// flattened makes a contour's curves chords.
func flattened(c []point) (out []point) {
	n := len(c)
	for i, p := range c {
		if !p.on {
			continue
		}
		out = append(out, p)
		q, r, s := c[(i+1)%n], c[(i+2)%n], c[(i+3)%n]
		if q.on {
			continue
		}
		for k := 1; k < 16; k++ {
			t := float64(k) / 16
			u := 1 - t
			a, b, d, e := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
			out = append(out, point{a*p.x + b*q.x + d*r.x + e*s.x, a*p.y + b*q.y + d*r.y + e*s.y, true})
		}
	}
	return out
}
