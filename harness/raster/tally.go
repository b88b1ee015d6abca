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
	more           int    // edges of this row than of the one below; and climbing less falling ones, times oneWay
}

const (
	oneWay = 1 << 32
	// mostCounted is how many edges of a row, half of them climbing, can be counted
	// modulo 8.
	mostCounted = 14
	// mostTallies holds the memory for them to a megabyte.
	mostTallies = 1 << 14
)

// tallyRows draws the rows from low to high, but for those that it doubts.
func (s *sweep) tallyRows(low, high int) {
	rows, words := high-low+1, s.across>>6+1
	s.tallies = resize(s.tallies, rows*words)
	clear(s.tallies)
	for word := range words {
		for i := range s.list {
			s.count(&s.list[i], s.tallies[word*rows:][:rows], low, 64*word)
		}
	}
	s.settle(rows, low)
}

// count adds the crossings of a profile to the tallies of the rows from low on, from
// pixel left.
func (s *sweep) count(p *profile, rows []tally, low, left int) {
	from, to := int(p.start)-low, int(p.end)-low+1
	down, way := ^uint64(0), 1-oneWay
	if p.up {
		down, way = 0, 1+oneWay
	}
	rows[from].more += way
	if to < len(rows) {
		rows[to].more -= way
	}
	xs := s.crossings(p)
	rows = rows[from:to][:len(xs)]
	bits, fraction, close, last := s.bits&31, s.one-1, 2*s.jitter-2, uint(min(63, s.across-left))
	origin, near := fraction-left<<bits, s.jitter
	for i, x := range xs {
		v := int(x) + origin
		gap := v >> bits
		if uint(gap) > last {
			s.elsewhere(&rows[i], gap, left, down)
			continue
		}
		right := ^uint64(0) >> (gap & 63)
		t, bit := &rows[i], right&^(right>>1)
		t.twice |= t.seen & bit
		t.seen |= bit
		t.turn(right, down)
		if v += near; v&fraction <= close {
			t.pass(v>>bits-1, v&fraction == near-1)
		}
	}
}

// elsewhere takes a crossing outside the 64 pixels from left on.
func (s *sweep) elsewhere(t *tally, gap, left int, down uint64) {
	switch {
	case gap+left < 0 || gap+left > s.across:
		t.near = ^uint64(0) // outside the bitmap: in doubt
	case gap < 0:
		t.turn(^uint64(0), down)
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
func (t *tally) pass(pixel int, through bool) {
	switch {
	case pixel < 0:
		t.near = ^uint64(0) // in the word before, or outside: in doubt
	case through:
		t.hit |= 1 << 63 >> (pixel & 63)
	default:
		t.near |= 1 << 63 >> (pixel & 63)
	}
}

// settle draws rows from the tallies, the lowest first, and leaves those in doubt
// blank. Where both pixels beside a gap are on, no dropout in it shows.
func (s *sweep) settle(rows, low int) {
	b := &s.bitmap
	end := ^uint64(0) << (63 - (b.Width-1)&63) // of the last word of a row
	edges := 0
	for row := range rows {
		edges += s.tallies[row].more
		doubt := edges>>32 != 0 || edges > mostCounted
		on, near := uint64(0), uint64(0) // of the word before
		words := b.Row(b.Height - 1 - low - row)
		for i, at := 0, row; at < len(s.tallies); i, at = i+1, at+rows {
			t := &s.tallies[at]
			before, nearBefore := on<<63, near<<63
			on, near = t.one|t.two|t.four|t.hit, t.near
			if t.twice&^(on&(on>>1|before)) != 0 || near&(near>>1|nearBefore) != 0 {
				doubt = true
			}
			if i < len(words) {
				words[i] = on
			}
		}
		words[len(words)-1] &= end
		if doubt {
			clear(words)
			s.doubt = append(s.doubt, int32(low+row))
		}
	}
}
