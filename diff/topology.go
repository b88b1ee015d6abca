package diff

// shape counts what holds a drawing together: parts of ink, 8-connected, and
// parts of white, 4-connected, the outside being one of them.
type shape struct{ ink, white int }

// line is pixels of one colour beside each other in a row.
type line struct {
	y, x0, x1 int // half-open
	ink       bool
	part      int32
}

func (p *plane) shape(d *desk) shape {
	_, s := p.join(d)
	return s
}

// join cuts a drawing into lines, row by row, and counts its parts without visiting a
// pixel twice: lines join the parts that they touch in the row before.
func (p *plane) join(d *desk) ([]line, shape) {
	var s shape
	count := func(ink bool, n int) {
		if ink {
			s.ink += n
		} else {
			s.white += n
		}
	}
	list := d.lines[:0]
	d.joined = d.joined[:0]
	first := 0 // of the row before, that reaches as far as the line at hand, or the next
	for y := range p.h {
		row := len(list)
		list = p.lines(y, list)
		for i := row; i < len(list); i++ {
			l := &list[i]
			diagonal := choose(l.ink, 1, 0)
			for first < row && list[first].x1+diagonal <= l.x0 {
				first++
			}
			l.part = -1
			for _, o := range list[first:row] {
				if o.x0 >= l.x1+diagonal {
					break
				}
				if o.ink != l.ink {
					continue
				}
				if l.part < 0 {
					l.part = d.root(o.part)
				} else if other := d.root(o.part); other != l.part {
					d.joined[other] = l.part
					count(l.ink, -1)
				}
			}
			if l.part < 0 {
				l.part = int32(len(d.joined))
				d.joined = append(d.joined, l.part)
				count(l.ink, 1)
			}
		}
		first = row
	}
	d.lines = list
	return list, s
}

func (p *plane) lines(y int, out []line) []line {
	row := p.v[y*p.w : (y+1)*p.w]
	for x := 0; x < len(row); {
		l := line{y: y, x0: x, ink: row[x] >= 128}
		for x < len(row) && row[x] >= 128 == l.ink {
			x++
		}
		l.x1 = x
		out = append(out, l)
	}
	return out
}

func (d *desk) root(part int32) int32 {
	for d.joined[part] != part {
		d.joined[part] = d.joined[d.joined[part]]
		part = d.joined[part]
	}
	return part
}

// shapeWith is the shape had the pixels that turned in an edit turned in this
// drawing alone.
func (p *plane) shapeWith(d *desk, e *edit, v uint8, other *plane) shape {
	d.saved = append(d.saved[:0], p.v...)
	for _, k := range e.pixels {
		if hard(d.saved[k], other.v[k]) {
			p.v[k] = v
		}
	}
	s := p.shape(d)
	copy(p.v, d.saved)
	return s
}

// effect is what the ink of an edit does to the shape.
type effect uint8

const (
	unchanged effect = iota
	joined           // its ink holds two strokes together, or closes a ring
	filled           // its ink fills a counter up
	island           // its ink is a part of its own
)

// effect says what the ink of an edit does between the drawing that has it and
// the one that lacks it, full and without being their shapes. The whole of the
// change must agree, so that a thin stroke that is only drawn a pixel aside is
// no break. Ink holds parts together where one of them is in pieces without it: an accent and its letter that both
// moved are none.
func (d *desk) effect(has, lacks *plane, full, without shape, e *edit, pieces func() bool) effect {
	if e.hard == 0 || len(e.pixels) == 1 && lacks.simple(e.pixels[0]) {
		return unchanged
	}
	with := lacks.shapeWith(d, e, 255, has)
	if with == without {
		return unchanged
	}
	bare := has.shapeWith(d, e, 0, lacks)
	switch {
	case with.ink > without.ink && full.ink > bare.ink:
		return island
	case with.ink < without.ink && (full.ink < bare.ink || full.ink < without.ink) && pieces(),
		with.white > without.white && (full.white > bare.white || full.white > without.white):
		return joined
	case with.white < without.white && (full.white < bare.white || full.white < without.white):
		return filled
	}
	return unchanged
}

// inPieces says that ink which is one part in a drawing is several in another: two of these lie on it, or one lies on
// nothing, and nobody can tell what it was.
func inPieces(one, other []part, size int) bool {
	owner := make([]int, size) // the part that has a pixel, from 1
	for i := range one {
		for _, k := range one[i].pixels {
			owner[k] = i + 1
		}
	}
	pieces := make([]int, len(one))
	for i := range other {
		met := map[int]bool{}
		for _, k := range other[i].pixels {
			if o := owner[k]; o > 0 && !met[o] {
				met[o] = true
				if pieces[o-1]++; pieces[o-1] > 1 {
					return true
				}
			}
		}
		if len(met) == 0 {
			return true
		}
	}
	return false
}

// simple says that ink at a pixel changes no shape: the ink about it is one
// part, and white shares a side with it.
func (p *plane) simple(k int) bool {
	n := around(k, p.w)
	ink, white := false, false
	for i, j := range n {
		ink = ink || p.ink(j)
		white = white || i < 4 && !p.ink(j)
	}
	return ink && white && !p.joins(k)
}

// joins says that the ink about a pixel hangs together only through it: the
// 8-connectivity number of its eight neighbours is more than one.
func (p *plane) joins(k int) bool {
	n := around(k, p.w)
	ring := [8]int{n[0], n[6], n[3], n[7], n[1], n[5], n[2], n[4]} // sides at even places
	parts := 0
	for i := 0; i < 8; i += 2 {
		if !p.ink(ring[i]) && (p.ink(ring[i+1]) || p.ink(ring[(i+2)%8])) {
			parts++
		}
	}
	return parts > 1
}
