package raster

import "smokeproof/harness/glyph"

// trace puts an outline's crossings on the sheet. It is false where FreeType's pool may not
// hold them: then it draws in bands, and they show.
func (s *sweep) trace(o *glyph.Outline) (fits bool, err error) {
	b := &s.bitmap
	if b.Width+b.Height > poolWords/2 || (b.Width>>6+1)*b.Height > mostTallies {
		return false, nil
	}
	s.repeats.ready(s.precision)
	s.sheet.clean(s.precision, b.Width, b.Height)
	s.byRow.start(s.precision, false, s.mode)
	s.byColumn.start(s.precision, true, askedLast(s.mode, o.Modes))
	contour := 0
	err = eachContour(o, func(ps []glyph.Point) bool {
		if contour < len(o.Modes) {
			s.byRow.ask(o.Modes[contour])
			s.byColumn.ask(o.Modes[contour])
		}
		number := int32(0)
		if contour < len(o.Recurs) {
			number = o.Recurs[contour]
		}
		contour++
		return s.contour(ps, number)
	})
	return s.byRow.fits() && s.byColumn.fits(), err
}

// contour puts one on the sheet, from memory if it is known. It is false where it makes no sense.
func (s *sweep) contour(ps []glyph.Point, number int32) bool {
	b := &s.bitmap
	f, at, known := s.repeats.find(number, ps, b.Left, b.Bottom, stubs{s.byRow.begin(), s.byColumn.begin()})
	if known {
		s.replay(f, at)
		return true
	}
	s.path.clear()
	if !s.path.contour(ps, s.bits-6, s.shift()) {
		return false
	}
	if f == nil || !s.learn(f, ps, at) {
		s.follow(&s.sheet)
	}
	return true
}

// learn puts a contour on a sheet of its own first, which is kept. It is false where the contour is too
// wide for that.
func (s *sweep) learn(f *figure, ps []glyph.Point, at pixel) bool {
	origin, ok := s.repeats.open(ps, s.bitmap.Left, s.bitmap.Bottom)
	if !ok {
		return false
	}
	s.path.move(origin.x<<s.bits, origin.y<<s.bits)
	rows, columns := s.byRow.cost, s.byColumn.cost
	s.follow(&s.repeats.sheet)
	s.repeats.learn(f, pixel{origin.x - at.x, origin.y - at.y}, s.byRow.cost.less(rows), s.byColumn.cost.less(columns))
	s.sheet.add(s.repeats.sheet.tallies, origin)
	return true
}

// replay puts a known contour on the sheet.
func (s *sweep) replay(f *figure, at pixel) {
	s.byRow.cost.add(f.byRow)
	s.byColumn.cost.add(f.byColumn)
	s.sheet.add(s.repeats.tallies[f.tallies.from:f.tallies.to], pixel{at.x + f.at.x, at.y + f.at.y})
}

// follow puts the contour in path on a sheet.
func (s *sweep) follow(h *sheet) {
	rows, columns := &s.byRow, &s.byColumn
	rows.sheet, columns.sheet = h, h
	at, q := s.path.points[0], s.path.points[1:]
	for _, v := range s.path.verbs[1:] {
		switch v {
		case lineTo:
			rows.line(at, q[0])
			columns.line(at.swapped(), q[0].swapped())
			at, q = q[0], q[1:]
		case conicTo:
			rows.conic(at, q[0], q[1])
			columns.conic(at.swapped(), q[0].swapped(), q[1].swapped())
			at, q = q[1], q[2:]
		case cubicTo:
			c := cubic{at.biased(), q[0].biased(), q[1].biased(), q[2].biased()}
			rows.cubic(c)
			columns.cubic(c.swapped())
			at, q = q[2], q[3:]
		case closeTo:
			rows.close(at, q[0])
			columns.close(at.swapped(), q[0].swapped())
		}
	}
}
