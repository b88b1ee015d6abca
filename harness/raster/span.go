package raster

import "smokeproof/harness/glyph"

// row pairs the climbing edges of a row with the falling ones, each in order, and
// turns on the pixels whose centres lie between the two or on one.
func (s *sweep) row(y int) {
	s.drops = s.drops[:0]
	var words []uint64
	if n := min(len(s.climb), len(s.fall)); n > 0 {
		words = s.bits.Row(s.bits.Height - 1 - y)
		for k := range n {
			l, r := &s.climb[k], &s.fall[k]
			x1, x2 := min(l.x, r.x), max(l.x, r.x)
			mode := s.list[l.profile].mode
			if s.empty(x1, x2) {
				s.drop(l, r, x1, x2, mode)
				continue
			}
			a, b := s.ceil(x1), s.floor(x2)
			if mode != glyph.DropoutOff && x2-x1-s.one <= s.jitter && a != x1 && b != x2 {
				b = a // curves are met a little askew; a stroke of one pixel stays one
			}
			fill(words, max(a/s.one, 0), min(b/s.one, s.across-1))
		}
	}
	s.mend(y)
}

// fill turns on the pixels from a to b.
func fill(row []uint64, a, b int) {
	if a > b {
		return
	}
	first, last := ^uint64(0)>>(a&63), ^uint64(0)<<(63-b&63)
	i, j := a>>6, b>>6
	if i == j {
		row[i] |= first & last
		return
	}
	row[i] |= first
	for i++; i < j; i++ {
		row[i] = ^uint64(0)
	}
	row[j] |= last
}

// column does the same for a column, but turns on only pixels with an edge
// through their centre: rows miss those on a level edge.
func (s *sweep) column(y int) {
	s.drops = s.drops[:0]
	for k := range min(len(s.climb), len(s.fall)) {
		l, r := &s.climb[k], &s.fall[k]
		x1, x2 := min(l.x, r.x), max(l.x, r.x)
		if s.empty(x1, x2) {
			s.drop(l, r, x1, x2, s.list[l.profile].mode)
			continue
		}
		if x1&(s.one-1) == 0 {
			s.set(x1/s.one, y)
		}
		if x2&(s.one-1) == 0 {
			s.set(x2/s.one, y)
		}
	}
	s.mend(y)
}
