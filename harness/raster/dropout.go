package raster

import "smokeproof/harness/glyph"

// drop is a span between two crossings that holds no pixel centre.
type drop struct {
	x1, x2      int
	left, right int32
}

// drop keeps one until the line's other spans are drawn.
func (s *sweep) drop(l, r *edge, x1, x2 int) {
	if s.list[l.profile].mode != glyph.DropoutOff {
		l.x, r.x = int32(x1), int32(x2)
		s.drops = append(s.drops, drop{x1, x2, l.profile, r.profile})
	}
}

func (s *sweep) mend(y int) {
	if len(s.drops) == 0 {
		return
	}
	for i := range s.drops {
		s.mendOne(y, &s.drops[i])
	}
	s.drops = s.drops[:0]
}

// mendOne applies the dropout rules 3 to 6 to a span without a centre. FreeType's
// two additions are kept: a pixel outside the box moves to the one inside, and
// nothing is set where the other pixel is on already (ftraster.c).
func (s *sweep) mendOne(y int, d *drop) {
	mode := s.list[d.left].mode
	if mode&2 != 0 || mode&1 != 0 && s.stub(int32(y), d) {
		return
	}
	pixel := d.x2 >> s.bits
	other := pixel + 1
	if mode&4 != 0 && (d.x1+d.x2+s.one*63/64)>>1>>s.bits == other { // a midpoint half-way goes to the lower pixel
		pixel, other = other, pixel
	}
	if pixel < 0 || pixel >= s.across {
		pixel, other = other, pixel
	}
	if !s.on(other, y) {
		s.set(pixel, y)
	}
}

// stub says that both crossings belong to the tip of a stroke: two profiles in
// a row that end, or begin, on this scan line, and reach hardly past it.
func (s *sweep) stub(y int32, d *drop) bool {
	l, r := &s.list[d.left], &s.list[d.right]
	wide := d.x2-d.x1 >= s.half
	if l.next == d.right && l.end <= y && !(l.overTop && wide) {
		return true
	}
	return r.next == d.left && l.start == y && !(l.overLow && wide)
}

// place finds the pixel at x on scan line y.
func (s *sweep) place(x, y int) (word, bit int, ok bool) {
	if s.columns {
		x, y = y, x
	}
	if uint(x) >= uint(s.bitmap.Width) || uint(y) >= uint(s.bitmap.Height) {
		return 0, 0, false
	}
	return (s.bitmap.Height-1-y)*s.bitmap.Stride + x>>6, 63 - x&63, true
}

func (s *sweep) set(x, y int) {
	if w, bit, ok := s.place(x, y); ok {
		s.bitmap.Words[w] |= 1 << bit
	}
}

func (s *sweep) on(x, y int) bool {
	w, bit, ok := s.place(x, y)
	return ok && s.bitmap.Words[w]>>bit&1 != 0
}
