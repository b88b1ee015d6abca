package raster

import "smokeproof/harness/glyph"

// row pairs the climbing edges of a row with the falling ones, each in order, and
// turns on the pixels whose centres lie between the two or on one.
func (s *sweep) row(y int) {
	n := min(len(s.climb), len(s.fall))
	if n == 0 {
		return
	}
	words := s.bitmap.Row(s.bitmap.Height - 1 - y)
	climb, fall := s.climb[:n], s.fall[:n]
	for k := range climb {
		l, r := &climb[k], &fall[k]
		x1, x2 := int(min(l.x, r.x)), int(max(l.x, r.x))
		a, b := s.ceil(x1), s.floor(x2)
		if a > b {
			s.drop(l, r, x1, x2)
			continue
		}
		if x2-x1 <= s.one+s.jitter && a != b && a != x1 && b != x2 && s.list[l.profile].mode != glyph.DropoutOff {
			b = a // curves are met a little askew; a stroke of one pixel stays one
		}
		fill(words, max(a>>s.bits, 0), min(b>>s.bits, s.across-1))
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
	n := min(len(s.climb), len(s.fall))
	climb, fall := s.climb[:n], s.fall[:n]
	for k := range climb {
		l, r := &climb[k], &fall[k]
		x1, x2 := int(min(l.x, r.x)), int(max(l.x, r.x))
		a, b := s.ceil(x1), s.floor(x2)
		if a > b {
			s.drop(l, r, x1, x2)
			continue
		}
		if a == x1 {
			s.set(a>>s.bits, y)
		}
		if b == x2 {
			s.set(b>>s.bits, y)
		}
	}
	s.mend(y)
}
