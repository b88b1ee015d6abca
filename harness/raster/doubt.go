package raster

import "smokeproof/harness/glyph"

// trace puts an outline's crossings on the sheet. It is false where FreeType's pool may not
// hold them: then it draws in bands, and they show.
func (s *sweep) trace(modes []glyph.Dropout) bool {
	b := &s.bitmap
	if b.Width+b.Height > poolWords/2 || (b.Width>>6+1)*b.Height > mostTallies {
		return false
	}
	s.sheet.clean(s.precision, b.Width, b.Height)
	s.byRow.start(&s.sheet, s.precision, false)
	s.byColumn.start(&s.sheet, s.precision, true)
	mode, points, contour := s.mode, s.path.points, 0
	s.byRow.mode, s.byColumn.mode = mode, askedLast(mode, modes)
	var at point
	for _, v := range s.path.verbs {
		switch q := points; v {
		case moveTo:
			if contour < len(modes) {
				s.byRow.ask(modes[contour])
				s.byColumn.ask(modes[contour])
			}
			contour++
			s.byRow.begin()
			s.byColumn.begin()
			at, points = q[0], points[1:]
		case lineTo:
			s.byRow.line(at, q[0])
			s.byColumn.line(at.swapped(), q[0].swapped())
			at, points = q[0], points[1:]
		case conicTo:
			s.byRow.conic(at, q[0], q[1])
			s.byColumn.conic(at.swapped(), q[0].swapped(), q[1].swapped())
			at, points = q[1], points[2:]
		case cubicTo:
			c := cubic{at.biased(), q[0].biased(), q[1].biased(), q[2].biased()}
			s.byRow.cubic(c)
			s.byColumn.cubic(c.swapped())
			at, points = q[2], points[3:]
		case closeTo:
			s.byRow.close(at, q[0])
			s.byColumn.close(at.swapped(), q[0].swapped())
			points = points[1:]
		}
	}
	return s.byRow.fits() && s.byColumn.fits()
}

// settle draws the bitmap from the sheet, and lines in doubt from their edges in order.
func (s *sweep) settle(modes []glyph.Dropout) bool {
	h := &s.sheet
	if !h.fill(&s.bitmap, s.byRow.mends || s.byColumn.mends) {
		return true
	}
	if len(h.rowsInDoubt) > 0 {
		s.face(false)
		if !s.lines(modes, h.rowsInDoubt) {
			return false
		}
		for _, y := range h.rowsInDoubt {
			h.strike(&s.bitmap, int(y))
		}
	} else {
		s.mode = askedLast(s.mode, modes)
	}
	if columns := h.listColumns(); len(columns) > 0 {
		s.face(true)
		return s.lines(modes, columns)
	}
	return true
}

// lines draws some lines.
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
