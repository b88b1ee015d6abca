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
	s.settle(high, stride)
}

// count adds the crossings of a profile to the tallies of its rows.
func (s *sweep) count(p *profile, low, stride int) {
	xs, y, step := s.crossings(p)
	tallies, at, step := s.tallies, (y-low)*stride, step*stride
	down, way := ^uint64(0), 1-oneWay
	if p.up {
		down, way = 0, 1+oneWay
	}
	bits, fraction, close, most := s.bits&31, s.one-1, s.jitter-1, uint(s.across)
	for _, x := range xs {
		gap := (int(x) + fraction) >> bits
		if uint(gap) > most {
			tallies[at].count += way + mostCounted // it is outside the bitmap
			at += step
			continue
		}
		tallies[at].count += way
		t, bit, right := &tallies[at+gap>>6], uint64(1)<<63>>(gap&63), ^uint64(0)>>(gap&63)
		t.twice |= t.seen & bit
		t.seen |= bit
		t.turn(right, down)
		for i := gap>>6 + 1; i < stride; i++ {
			tallies[at+i].turn(^uint64(0), down)
		}
		if v := int(x) + close; v&fraction <= 2*close {
			pass(tallies[at:at+stride], v>>bits, v&fraction == close)
		}
		at += step
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

// settle draws the rows from the tallies, the last of them row high; those in doubt
// are left blank. Where both pixels beside a gap are on, no dropout in it shows.
func (s *sweep) settle(high, stride int) {
	end := ^uint64(0) << (63 - (s.across-1)&63) // of the last word of a row
	b := &s.bitmap
	words, y := b.Words[(b.Height-1-high)*b.Stride:], high
	for at := len(s.tallies) - stride; at >= 0; at -= stride {
		row := s.tallies[at : at+stride]
		doubt := row[0].count>>32 != 0 || row[0].count > mostCounted
		on, near := uint64(0), uint64(0) // of the word before
		for i := range row {
			t := &row[i]
			before, beforeNear := on<<63, near<<63
			on, near = t.one|t.two|t.four|t.hit, t.near
			if t.twice&^(on&(on>>1|before)) != 0 || near&(near>>1|beforeNear) != 0 {
				doubt = true
			}
			if i < b.Stride {
				words[i] = on
			}
		}
		words[b.Stride-1] &= end
		if doubt {
			clear(words[:b.Stride])
			s.doubt = append(s.doubt, int32(y))
		}
		words, y = words[b.Stride:], y-1
	}
}
