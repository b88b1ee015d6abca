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
	for k := range n {
		p, ok := s.span(k)
		if !ok {
			continue
		}
		if p.x2-p.x1 <= s.one+s.jitter && p.a != p.b && p.a != p.x1 && p.b != p.x2 && s.list[s.climb[k].profile].mode != glyph.DropoutOff {
			p.b = p.a // curves are met a little askew; a stroke of one pixel stays one
		}
		fill(words, max(p.a>>s.bits, 0), min(p.b>>s.bits, s.across-1))
	}
	s.mend(y)
}

// span is what lies between two edges, from x1 to x2, and the first and the last centre in it.
type span struct{ x1, x2, a, b int }

// span reads the k-th pair of edges; one with no centre between is left to dropout control.
func (s *sweep) span(k int) (p span, ok bool) {
	l, r := &s.climb[k], &s.fall[k]
	p.x1, p.x2 = int(min(l.x, r.x)), int(max(l.x, r.x))
	p.a, p.b = s.ceil(p.x1), s.floor(p.x2)
	if p.a > p.b {
		s.drop(l, r, p.x1, p.x2)
		return p, false
	}
	return p, true
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
	for k := range n {
		p, ok := s.span(k)
		if !ok {
			continue
		}
		if p.a == p.x1 {
			s.set(p.a>>s.bits, y)
		}
		if p.b == p.x2 {
			s.set(p.b>>s.bits, y)
		}
	}
	s.mend(y)
}
