package diff

import "math"

// shape counts what holds a drawing together: parts of ink, 8-connected, and
// parts of white, 4-connected, the outside being one of them.
type shape struct{ ink, white int }

func (p *plane) shape(d *desk) shape {
	var s shape
	p.flood(d, func(ink bool, _ []int) {
		if ink {
			s.ink++
		} else {
			s.white++
		}
	})
	return s
}

// flood hands on every part of a drawing and its pixels, which are the desk's.
func (p *plane) flood(d *desk, part func(ink bool, pixels []int)) {
	if len(d.seen) < len(p.v) || d.flood == math.MaxUint32 {
		cleared(&d.seen, len(p.v))
		d.flood = 0
	}
	d.flood++
	seen, reached := d.seen[:len(p.v)], d.reached
	defer func() { d.reached = reached }()
	for i := range p.v {
		if seen[i] == d.flood {
			continue
		}
		ink, reach := p.ink(i), 4
		if ink {
			reach = 8
		}
		seen[i] = d.flood
		reached = append(reached[:0], i)
		for at := 0; at < len(reached); at++ {
			for j, n := range around(reached[at], p.w) {
				if j < reach && n >= 0 && n < len(seen) && seen[n] != d.flood && p.ink(n) == ink {
					seen[n] = d.flood
					reached = append(reached, n)
				}
			}
		}
		part(ink, reached)
	}
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

// change is what an edit does to the shape.
type change uint8

const (
	unchanged change = iota
	joined           // its ink holds two strokes together, or closes a ring
	filled           // its ink fills a counter up
	island           // its ink is a part of its own
)

// effect says what the ink of an edit does between the drawing that has it and
// the one that lacks it, full and without being their shapes. The whole of the
// change must agree, so that a thin stroke that is only drawn a pixel aside is
// no break.
func (d *desk) effect(has, lacks *plane, full, without shape, e *edit) change {
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
	case with.ink < without.ink && (full.ink < bare.ink || full.ink < without.ink),
		with.white > without.white && (full.white > bare.white || full.white > without.white):
		return joined
	case with.white < without.white && (full.white < bare.white || full.white < without.white):
		return filled
	}
	return unchanged
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
