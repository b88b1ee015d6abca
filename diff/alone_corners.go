package diff

import "math"

// atCorners says that two parts of the outline are one part of the drawing by corners of their
// pixels alone: no side of a pixel joins them. Each pixel is taken for the part that lies nearest.
func (a *alone) atCorners(q *part, list []region) bool {
	if len(list) != 2 {
		return false
	}
	of := a.nearest(q, list)
	var drawn [2]bool
	for i, r := range of {
		drawn[r] = true
		for _, n := range [...]int{i + 1, i + a.p.w} {
			if other, ink := of[n]; ink && other != r {
				return false
			}
		}
	}
	return drawn[0] && drawn[1]
}

// nearest tells of each pixel of a part of the drawing which region of the outline lies nearest to it.
func (a *alone) nearest(q *part, list []region) map[int]int {
	large, rims := a.rims(list)
	of := make(map[int]int, len(q.pixels))
	for _, i := range q.pixels {
		x, y := a.aboutForm(i, large)
		least := math.MaxInt
		for n, rim := range rims {
			for _, m := range rim {
				dx, dy := x-m%large.w, y-m/large.w
				if far := dx*dx + dy*dy; far < least {
					least, of[i] = far, n
				}
			}
		}
	}
	return of
}
