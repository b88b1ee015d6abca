package raster

// lines draws the scan lines from low to high: those in doubt from their edges in
// order, the others from what crossings come to.
func (s *sweep) lines(low, high int) {
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
		x := s.store[p.first+p.step*int32(y-int(p.start))]
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
	stride := s.across>>6 + 1
	s.gaps = resize(s.gaps, stride*(high-low+1))
	clear(s.gaps)
	bits, fraction, most := s.bits, s.one-1, uint(s.across)
	for i := range s.list {
		ys, x, step := s.crossings(&s.list[i])
		for _, y := range ys {
			gap := (int(y) + fraction) >> bits
			if uint(gap) > most {
				s.doubtColumn(x)
			} else {
				w, bit := &s.gaps[(x-low)*stride+gap>>6], uint64(1)<<63>>(gap&63)
				if int(y)&fraction == 0 && !s.on(gap, x) || *w&bit != 0 && !(s.on(gap, x) && s.on(gap-1, x)) {
					s.doubtColumn(x)
				}
				*w |= bit
			}
			x += step
		}
	}
}

func (s *sweep) doubtColumn(x int) {
	if n := len(s.doubt); n == 0 || s.doubt[n-1] != int32(x) {
		s.doubt = append(s.doubt, int32(x))
	}
}

// crossings are those of a profile as they were met, from line first on, a step
// apart.
func (s *sweep) crossings(p *profile) (xs []int32, first, step int) {
	n := p.end - p.start + 1
	if p.step < 0 {
		return s.store[p.first-n+1 : p.first+1], int(p.end), -1
	}
	return s.store[p.first : p.first+n], int(p.start), 1
}
