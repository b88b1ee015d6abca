package diff

// shape counts what holds a drawing together: parts of ink, 8-connected, and
// parts of white, 4-connected, the outside being one of them.
type shape struct{ ink, white int }

func (p *plane) shape() shape {
	seen := make([]bool, len(p.v))
	var s shape
	var stack []int
	for i := range p.v {
		if seen[i] {
			continue
		}
		ink, reach := p.ink(i), 4
		if ink {
			reach = 8
			s.ink++
		} else {
			s.white++
		}
		seen[i] = true
		for stack = append(stack[:0], i); len(stack) > 0; {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for j, n := range around(k, p.w) {
				if j < reach && n >= 0 && n < len(seen) && !seen[n] && p.ink(n) == ink {
					seen[n] = true
					stack = append(stack, n)
				}
			}
		}
	}
	return s
}

// painted is the plane with an edit's pixels set to one value.
func (p *plane) painted(e *edit, v uint8) plane {
	q := *p
	q.v = append([]uint8(nil), p.v...)
	for _, k := range e.pixels {
		q.v[k] = v
	}
	return q
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
// the one that lacks it. The whole of the change must agree, so that a thin stroke that is only
// drawn a pixel aside is no break.
func effect(has, lacks *plane, e *edit) change {
	if e.hard == 0 {
		return unchanged
	}
	inked, erased := lacks.painted(e, 255), has.painted(e, 0)
	without, with := lacks.shape(), inked.shape()
	bare, full := erased.shape(), has.shape()
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
