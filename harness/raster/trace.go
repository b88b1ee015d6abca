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
	s.by.row.start(&s.by.meets, s.precision, false, s.mode)
	s.by.column.start(&s.by.meets, s.precision, true, askedLast(s.mode, o.Modes))
	contour := 0
	err = eachContour(o, func(ps []glyph.Point) bool {
		if contour < len(o.Modes) {
			s.by.row.ask(o.Modes[contour])
			s.by.column.ask(o.Modes[contour])
		}
		number := int32(0)
		if contour < len(o.Recurs) {
			number = o.Recurs[contour]
		}
		contour++
		return s.contour(ps, number)
	})
	return s.by.fit(), err
}

// contour puts one on the sheet, from memory if it is known. It is false where it makes no sense.
func (s *sweep) contour(ps []glyph.Point, number int32) bool {
	b := &s.bitmap
	f, at, known := s.repeats.find(number, ps, b.Left, b.Bottom, stubs{s.by.row.ready(), s.by.column.ready()})
	if known {
		s.replay(f, at)
		return true
	}
	if f != nil {
		return s.learn(f, ps, at)
	}
	return s.follow(ps, pixel{}, &s.sheet)
}

// learn puts a contour on a sheet of its own first, which is kept, unless it is too wide for that.
func (s *sweep) learn(f *figure, ps []glyph.Point, at pixel) bool {
	origin, ok := s.repeats.open(ps, s.bitmap.Left, s.bitmap.Bottom)
	if !ok {
		return s.follow(ps, pixel{}, &s.sheet)
	}
	rows, columns := s.by.row.cost, s.by.column.cost
	if !s.follow(ps, origin, &s.repeats.sheet) {
		return false
	}
	if !s.by.fit() {
		return true
	}
	s.repeats.learn(f, pixel{origin.x - at.x, origin.y - at.y}, s.by.row.cost.less(rows), s.by.column.cost.less(columns))
	s.sheet.add(s.repeats.sheet.tallies, origin)
	return true
}

// replay puts a known contour on the sheet.
func (s *sweep) replay(f *figure, at pixel) {
	s.by.row.cost.add(f.byRow)
	s.by.column.cost.add(f.byColumn)
	s.sheet.add(s.repeats.tallies[f.tallies.from:f.tallies.to], pixel{at.x + f.at.x, at.y + f.at.y})
}

// follow puts a contour on a sheet whose first pixel is origin, if FreeType's pool holds it. It is false
// where the contour makes no sense.
func (s *sweep) follow(ps []glyph.Point, origin pixel, h *sheet) bool {
	s.by.origin = point(origin.y<<s.bits)<<32 + point(origin.x<<s.bits)
	if !walk(ps, s.bits-6, s.shift(), &s.by) {
		return false
	}
	if s.by.fit() {
		s.by.meets.find(&s.cutter)
		s.by.row.draw(h)
		s.by.column.draw(h)
	}
	return true
}
