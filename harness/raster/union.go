package raster

import (
	"cmp"
	"slices"
)

// union finds, among the pieces of edge in a row, those between where the winding
// number is zero and where it is not: the edge of what is covered at least once.
type union struct {
	heights []int
	strip   []piece
	out     []piece
}

// of returns them, the left edges of what is covered going up, the right ones down.
// Where the row's own pieces are no more than that, it returns them as they are.
// Where not, they are cut at the heights at which one begins, ends or crosses
// another; a crossing is rounded to the sub-pixel grid, which is all that is not
// exact.
func (u *union) of(row []piece) []piece {
	u.cut(row)
	u.out = u.out[:0]
	inside, ups, downs := false, false, false // pieces inside; edges entered by pieces that go up, and down
	for i := 1; i < len(u.heights); i++ {
		winding := 0
		for _, p := range u.between(row, u.heights[i-1], u.heights[i]) {
			before := winding
			if p.up {
				winding++
			} else {
				winding--
			}
			switch {
			case before != 0 && winding != 0:
				inside = true
				continue
			case before == 0 && p.up:
				ups = true
			case before == 0:
				downs = true
			}
			p.up = before == 0
			u.out = append(u.out, p)
		}
	}
	if inside || ups && downs {
		return u.out
	}
	return row
}

// between gives the parts of pieces between two heights, from left to right.
func (u *union) between(row []piece, low, high int) []piece {
	u.strip = u.strip[:0]
	for _, p := range row {
		if p.low.y <= low && p.high.y >= high {
			u.strip = append(u.strip, p.between(low, high))
		}
	}
	slices.SortStableFunc(u.strip, func(p, q piece) int { return cmp.Compare(p.low.x+p.high.x, q.low.x+q.high.x) })
	return u.strip
}

// between is the part of a piece between two heights.
func (p piece) between(low, high int) piece {
	q := p
	if low > p.low.y {
		q.low = vec{xAt(p.low, p.high, low), low}
	}
	if high < p.high.y {
		q.high = vec{xAt(p.low, p.high, high), high}
	}
	return q
}

// crowdedRow is the number of pieces, more than letters have in one row, from which
// on crossings are not looked for: the row is cut at every height of the grid, to
// which they would be rounded anyway.
const crowdedRow = 512

// cut collects the heights at which anything changes, lowest first.
func (u *union) cut(row []piece) {
	u.heights = u.heights[:0]
	if len(row) > crowdedRow {
		bottom := row[0].low.y &^ (subpixel - 1)
		for y := range subpixel + 1 {
			u.heights = append(u.heights, bottom+y)
		}
		return
	}
	for i, p := range row {
		u.heights = append(u.heights, p.low.y, p.high.y)
		for _, q := range row[:i] {
			if y, crosses := crossing(p, q); crosses {
				u.heights = append(u.heights, y)
			}
		}
	}
	slices.Sort(u.heights)
	u.heights = slices.Compact(u.heights)
}

// crossing is the height at which two pieces change sides.
func crossing(p, q piece) (y int, crosses bool) {
	low, high := max(p.low.y, q.low.y), min(p.high.y, q.high.y)
	if low >= high || max(p.low.x, p.high.x) < min(q.low.x, q.high.x) || max(q.low.x, q.high.x) < min(p.low.x, p.high.x) {
		return 0, false
	}
	a, b := p.between(low, high), q.between(low, high)
	d, e := a.low.x-b.low.x, a.high.x-b.high.x
	if d == 0 || e == 0 || (d < 0) == (e < 0) {
		return 0, false
	}
	d, e = abs(d), abs(e)
	return low + ((high-low)*d+(d+e)/2)/(d+e), true
}
