package diff

import (
	"math"
	"slices"
)

// atCorners says that two parts of the outline are one part of the drawing by corners of their
// pixels alone: no side of a pixel joins them. Each pixel is taken for the part that lies nearest.
func (a *alone) atCorners(q *part, list []region) bool {
	if len(list) != 2 {
		return false
	}
	large, rims := a.rims(list)
	known := make(map[int]int, len(q.pixels))
	of := func(i int) int {
		n, ok := known[i]
		if !ok {
			n = a.nearest(i, large, rims)
			known[i] = n
		}
		return n
	}
	return a.cornerBetween(q, of) && !a.sideBetween(q, of)
}

// cornerBetween says that pixels of two regions touch at a corner, with white on both sides of it.
func (a *alone) cornerBetween(q *part, of func(int) int) bool {
	p := a.p
	for _, i := range q.pixels {
		for _, aside := range [...]int{1, -1} {
			k := i + p.w + aside
			if p.ink(k) && !p.ink(i+aside) && !p.ink(i+p.w) && of(i) != of(k) {
				return true
			}
		}
	}
	return false
}

// sideBetween says that pixels of two regions have a side in common.
func (a *alone) sideBetween(q *part, of func(int) int) bool {
	p := a.p
	for _, i := range q.pixels {
		for _, k := range [...]int{i + 1, i + p.w} {
			if p.ink(k) && of(i) != of(k) {
				return true
			}
		}
	}
	return false
}

// nearest tells which part of the outline, by its rim, lies nearest to a pixel: it looks about it as
// far as it takes to find one.
func (a *alone) nearest(i int, large *large, rims [][]int) (part int) {
	x, y := a.aboutForm(i, large)
	for reach := 8; ; reach *= 2 {
		least := math.MaxInt
		for n, rim := range rims {
			from, _ := slices.BinarySearch(rim, (y-reach)*large.w)
			for _, m := range rim[from:] {
				if m >= (y+reach+1)*large.w {
					break
				}
				dx, dy := x-m%large.w, y-m/large.w
				if far := dx*dx + dy*dy; far < least {
					least, part = far, n
				}
			}
		}
		if least <= reach*reach || reach > large.w+large.h {
			return part
		}
	}
}
