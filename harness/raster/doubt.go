package raster

import "smokeproof/harness/glyph"

// settle draws the lines in doubt from their edges in order. It is false where the pool
// runs out after all.
func (s *sweep) settle(o *glyph.Outline) bool {
	s.read(o)
	h, modes := &s.sheet, o.Modes
	if len(h.rowsInDoubt) > 0 {
		s.face(false)
		if !s.lines(modes, h.rowsInDoubt) {
			return false
		}
		for _, y := range h.rowsInDoubt {
			h.strike(&s.bitmap, int(y))
		}
	} else {
		s.mode = s.by.row.mode
	}
	if columns := h.listColumns(); len(columns) > 0 {
		s.face(true)
		return s.lines(modes, columns)
	}
	return true
}

// lines draws some of the lines one way.
func (s *sweep) lines(modes []glyph.Dropout, lines []int32) bool {
	last := s.bitmap.Width + s.bitmap.Height - s.across - 1
	if !s.cut(&s.path, modes, 0, last) {
		return false
	}
	for _, y := range lines {
		if len(s.list) > crowd || !s.order(int(y)) {
			s.scan(0, last)
			return true
		}
		if s.columns {
			s.column(int(y))
		} else {
			s.row(int(y))
		}
	}
	return true
}

// order has the edges of one line in order. It is false where edges that go the
// same way meet on it: the order in which they came decides then, and only scan
// knows it.
func (s *sweep) order(y int) bool {
	s.climb, s.fall = s.climb[:0], s.fall[:0]
	for i := range s.list {
		p := &s.list[i]
		if y < int(p.start) || y > int(p.end) {
			continue
		}
		edges := &s.fall
		if p.up {
			edges = &s.climb
		}
		x := s.store[p.first+int32(y)-p.start]
		e := append(*edges, edge{})
		k := len(e) - 1
		for ; k > 0 && e[k-1].x > x; k-- {
			e[k] = e[k-1]
		}
		if k > 0 && e[k-1].x == x {
			return false
		}
		e[k] = edge{x: x, profile: int32(i)}
		*edges = e
	}
	return true
}
