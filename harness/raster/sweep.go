package raster

import (
	"slices"

	"smokeproof/harness/glyph"
)

// sweep fills outlines by pixel centres and mends dropouts. It runs over the
// rows and then over the columns, which finds what is thin the other way.
type sweep struct {
	profiler
	rows        [][]int // profiles by the scan line on which they start
	act         []int   // profiles that meet this scan line
	left, right []int
	drops       []drop

	bits     *glyph.Bitmap
	across   int // pixels along a scan line
	vertical bool
	dropout  glyph.Dropout
}

// drop is a span between two crossings that holds no pixel centre.
type drop struct{ x1, x2, left, right int }

func (s *sweep) outline(o *glyph.Outline, b *glyph.Bitmap, d glyph.Dropout, high bool) {
	s.bits, s.dropout = b, d
	for _, s.vertical = range []bool{false, true} {
		lines := b.Height
		s.across = b.Width
		if s.vertical {
			lines, s.across = b.Width, b.Height
		}
		s.reset(lines, high)
		scale, half := s.one/64, s.half
		walk(o, func(p glyph.Point) vec {
			x := (int(p.X)-b.Left*64)*scale - half
			y := (int(p.Y)-b.Bottom*64)*scale - half
			if s.vertical {
				return vec{y, x}
			}
			return vec{x, y}
		}, &s.profiler)
		s.orient()
		s.scan(lines)
	}
}

// orient turns the crossings of falling profiles, which were met from the top
// down, so that every profile reads upward.
func (s *sweep) orient() {
	for i := range s.list {
		p := &s.list[i]
		if !p.up {
			p.start = -p.start - len(p.crossings) + 1
			slices.Reverse(p.crossings)
		}
	}
}

func (s *sweep) scan(lines int) {
	for len(s.rows) < lines {
		s.rows = append(s.rows, nil)
	}
	for i := range lines {
		s.rows[i] = s.rows[i][:0]
	}
	for i := range s.list {
		if y := s.list[i].start; y >= 0 && y < lines {
			s.rows[y] = append(s.rows[y], i)
		}
	}
	s.act = s.act[:0]
	for y := range lines {
		s.act = append(s.act, s.rows[y]...)
		s.act = slices.DeleteFunc(s.act, func(i int) bool { return s.list[i].end() < y })
		s.line(y)
	}
}

// line pairs the climbing crossings of one scan line with the falling ones, each
// in order, and fills between.
func (s *sweep) line(y int) {
	s.left, s.right, s.drops = s.left[:0], s.right[:0], s.drops[:0]
	for _, i := range s.act {
		if s.list[i].up {
			s.left = append(s.left, i)
		} else {
			s.right = append(s.right, i)
		}
	}
	at := func(i int) int { return s.list[i].crossings[y-s.list[i].start] }
	byX := func(a, b int) int { return at(a) - at(b) }
	slices.SortStableFunc(s.left, byX)
	slices.SortStableFunc(s.right, byX)
	for k := range min(len(s.left), len(s.right)) {
		l, r := s.left[k], s.right[k]
		x1, x2 := at(l), at(r)
		if x1 > x2 {
			x1, x2 = x2, x1
		}
		e1, e2 := s.floor(x1), s.ceil(x2)
		if x2-x1 <= s.one && e1 != x1 && e2 != x2 && (e1 > e2 || e2 == e1+s.one) {
			s.drops = append(s.drops, drop{x1, x2, l, r})
			continue
		}
		s.span(y, x1, x2)
	}
	for i := range s.drops {
		s.mend(y, &s.drops[i])
	}
}

// span turns on the pixels whose centres lie between two crossings or on one.
// Over the columns it looks only at edges that run through centres, which the
// rows can miss.
func (s *sweep) span(y, x1, x2 int) {
	a, b := s.ceil(x1), s.floor(x2)
	if s.vertical {
		if a == x1 {
			s.set(a/s.one, y)
		}
		if b == x2 {
			s.set(b/s.one, y)
		}
		return
	}
	for x := max(a/s.one, 0); x <= min(b/s.one, s.across-1); x++ {
		s.set(x, y)
	}
}

// mend applies the dropout rules 3 to 6 to a span without a centre. FreeType's
// two additions are kept: a pixel outside the box moves to the one inside, and
// nothing is set where the other pixel is on already (ftraster.c).
func (s *sweep) mend(y int, d *drop) {
	e1, e2 := s.ceil(d.x1), s.floor(d.x2)
	if e1 != e2+s.one || s.dropout < 0 || s.dropout > 5 || s.dropout&2 != 0 {
		return
	}
	if s.dropout&1 != 0 && s.stub(y, d) {
		return
	}
	pixel := e2
	if s.dropout&4 != 0 {
		pixel = s.floor((d.x1 + d.x2 + s.one*63/64) >> 1) // a midpoint half-way goes to the lower pixel
	}
	if pixel < 0 {
		pixel = e1
	} else if pixel/s.one >= s.across {
		pixel = e2
	}
	other := e1
	if pixel == e1 {
		other = e2
	}
	if o := other / s.one; other >= 0 && o < s.across && s.on(o, y) {
		return
	}
	s.set(pixel/s.one, y)
}

// stub says that both crossings belong to the tip of a stroke: two profiles in
// a row that end, or begin, on this scan line, and reach hardly past it.
func (s *sweep) stub(y int, d *drop) bool {
	l, r := &s.list[d.left], &s.list[d.right]
	wide := d.x2-d.x1 >= s.half
	if l.next == d.right && l.end() <= y && !(l.topOvershoot && wide) {
		return true
	}
	return r.next == d.left && l.start == y && !(l.lowOvershoot && wide)
}

func (s *sweep) place(x, y int) (word, bit int, ok bool) {
	if s.vertical {
		x, y = y, x
	}
	if x < 0 || x >= s.bits.Width || y < 0 || y >= s.bits.Height {
		return 0, 0, false
	}
	return (s.bits.Height-1-y)*s.bits.Stride + x/64, 63 - x%64, true
}

func (s *sweep) set(x, y int) {
	if w, bit, ok := s.place(x, y); ok {
		s.bits.Words[w] |= 1 << bit
	}
}

func (s *sweep) on(x, y int) bool {
	w, bit, ok := s.place(x, y)
	return ok && s.bits.Words[w]>>bit&1 != 0
}
