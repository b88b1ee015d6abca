package raster

// tally is what crossings come to in 64 pixels of a row. A bit of each word is a
// pixel, the highest the leftmost. A pixel's gap lies left of its centre, up to
// that of the pixel before; it holds the one centre, but not the other.
//
// Most rows are filled from the winding number at each centre alone, which
// crossings add to in any order, a word of pixels at a time. Edges need to be put
// in order only where a row is in doubt: where a dropout may have to be mended, a
// stroke of a pixel may have come out two wide, or the numbers may be wrong.
type tally struct {
	one, two, four uint64 // the winding number at the centre, modulo 8
	hit            uint64 // an edge runs through the centre
	near           uint64 // an edge passes the centre within jitter
	seen, twice    uint64 // the gap holds a crossing; it holds several
	count          int    // of the row's crossings; and climbing less falling ones, times oneWay
}

const (
	oneWay = 1 << 32
	// mostCounted is how many crossings of a row, half of them climbing, can be
	// counted modulo 8.
	mostCounted = 14
	// mostTallies holds the memory for them to a megabyte.
	mostTallies = 1 << 14
)

// tallyRows draws the rows from low to high, but for those that it doubts.
func (s *sweep) tallyRows(low, high int) {
	stride := s.across>>6 + 1
	s.tallies = resize(s.tallies, stride*(high-low+1))
	clear(s.tallies)
	for i := range s.list {
		s.count(&s.list[i], low, stride)
	}
	for y, rest := low, s.tallies; len(rest) > 0; y, rest = y+1, rest[stride:] {
		s.settle(y, rest[:stride])
	}
}

// count adds the crossings of a profile to the tallies of its rows.
func (s *sweep) count(p *profile, low, stride int) {
	xs, y, step := s.crossings(p)
	at, step := (y-low)*stride, step*stride
	down, way := ^uint64(0), 1-oneWay
	if p.up {
		down, way = 0, 1+oneWay
	}
	bits, fraction, most, close := s.bits, s.one-1, uint(s.across), s.jitter-1
	for _, x := range xs {
		row := s.tallies[at : at+stride]
		at += step
		row[0].count += way
		gap := (int(x) + fraction) >> bits
		if uint(gap) > most {
			row[0].count += mostCounted + 1 // it is outside the bitmap
			continue
		}
		i := gap >> 6
		t, bit, right := &row[i], uint64(1)<<63>>(gap&63), ^uint64(0)>>(gap&63)
		t.twice |= t.seen & bit
		t.seen |= bit
		t.turn(right, down)
		for i++; i < len(row); i++ {
			row[i].turn(^uint64(0), down)
		}
		if v := int(x) + close; v&fraction <= 2*close {
			pass(row, v>>bits, v&fraction == close)
		}
	}
}

// turn adds 1 to the winding numbers of pixels, or where down is all ones takes it away.
func (t *tally) turn(pixels, down uint64) {
	carry := (t.one ^ down) & pixels
	t.one ^= pixels
	next := (t.two ^ down) & carry
	t.two ^= carry
	t.four ^= next
}

// pass notes that an edge runs through a pixel's centre, or close by.
func pass(row []tally, pixel int, through bool) {
	switch {
	case pixel < 0:
		row[0].count += mostCounted + 1
	case through:
		row[pixel>>6].hit |= 1 << 63 >> (pixel & 63)
	default:
		row[pixel>>6].near |= 1 << 63 >> (pixel & 63)
	}
}

// settle draws a row by its tallies, unless there is doubt. Where both pixels beside
// a gap are on, no dropout in it shows.
func (s *sweep) settle(y int, row []tally) {
	words := s.bitmap.Row(s.bitmap.Height - 1 - y)
	doubt := row[0].count>>32 != 0 || row[0].count > mostCounted
	on, near := uint64(0), uint64(0) // of the word before
	for i := range row {
		t := &row[i]
		before, beforeNear := on<<63, near<<63
		on, near = t.one|t.two|t.four|t.hit, t.near
		if t.twice&^(on&(on>>1|before)) != 0 || near&(near>>1|beforeNear) != 0 {
			doubt = true
		}
		if i < len(words) {
			words[i] = on
		}
	}
	if doubt {
		clear(words)
		s.doubt = append(s.doubt, int32(y))
		return
	}
	words[len(words)-1] &= ^uint64(0) << (63 - (s.across-1)&63)
}
