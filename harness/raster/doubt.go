package raster

// lines draws the scan lines from low to high: those in doubt from their edges in
// order, the others from what crossings come to.
func (s *sweep) lines(low, high int) {
	if len(s.list) < 2 {
		return
	}
	if len(s.list) > crowd || (s.across>>6+1)*(high-low+1) > mostTallies {
		s.scan(low, high)
		return
	}
	s.doubt = s.doubt[:0]
	if s.columns {
		s.probeColumns(low, high)
	} else {
		s.tallyRows(low, high)
	}
	for _, y := range s.doubt {
		if !s.order(int(y)) {
			s.scan(low, high)
			return
		}
		if s.columns {
			s.column(int(y))
		} else {
			s.row(int(y))
		}
	}
}

// order has the edges of one line in order. It is false where edges that go the
// same way meet on it: the order in which they came decides then, and only scan
// knows it.
func (s *sweep) order(y int) bool {
	s.climb, s.fall = s.climb[:0], s.fall[:0]
	for i := range s.list {
		p := &s.list[i]
		if y < int(p.start) || y > int(p.end) {
			continue
		}
		edges := &s.fall
		if p.up {
			edges = &s.climb
		}
		x := s.store[p.first+int32(y)-p.start]
		e := append(*edges, edge{})
		k := len(e) - 1
		for ; k > 0 && e[k-1].x > x; k-- {
			e[k] = e[k-1]
		}
		if k > 0 && e[k-1].x == x {
			return false
		}
		e[k] = edge{x: x, profile: int32(i)}
		*edges = e
	}
	return true
}

// probeColumns finds the columns from low to high in which an edge runs through the
// centre of a pixel, or two cross between one centre and the next. The others have
// nothing to add to the rows.
func (s *sweep) probeColumns(low, high int) {
	columns, words := high-low+1, s.across>>6+1
	s.gaps = resize(s.gaps, columns*words)
	clear(s.gaps)
	for word := range words {
		for i := range s.list {
			s.probe(&s.list[i], s.gaps[word*columns:][:columns], low, 64*word)
		}
	}
}

// probe looks through the crossings of a profile from pixel bottom on.
func (s *sweep) probe(p *profile, gaps []uint64, low, bottom int) {
	ys, x := s.crossings(p), int(p.start)
	gaps = gaps[x-low:][:len(ys)]
	bits, fraction, last := s.bits&31, s.one-1, uint(min(63, s.across-bottom))
	origin := fraction - bottom<<bits
	for i, y := range ys {
		v := int(y) + origin
		gap := v >> bits
		if uint(gap) > last {
			if gap+bottom < 0 || gap+bottom > s.across {
				s.doubtColumn(x + i)
			}
			continue
		}
		seen, bit := gaps[i], uint64(1)<<(gap&63)
		gaps[i] = seen | bit
		if seen&bit != 0 || v&fraction == fraction {
			s.look(x+i, gap+bottom, seen&bit != 0, v&fraction == fraction)
		}
	}
}

// look doubts a column in whose gap two edges cross, or one through the centre above,
// unless the pixels that may have to be turned on are on already.
func (s *sweep) look(x, gap int, twice, hit bool) {
	if hit && !s.on(gap, x) || twice && !(s.on(gap, x) && s.on(gap-1, x)) {
		s.doubtColumn(x)
	}
}

func (s *sweep) doubtColumn(x int) {
	if n := len(s.doubt); n == 0 || s.doubt[n-1] != int32(x) {
		s.doubt = append(s.doubt, int32(x))
	}
}

// crossings are those of a profile, from its lowest line on.
func (s *sweep) crossings(p *profile) []int32 { return s.store[p.first : p.first+p.end-p.start+1] }
