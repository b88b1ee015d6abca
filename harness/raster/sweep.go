package raster

import "smokeproof/harness/glyph"

// sweep fills outlines by pixel centres and mends dropouts. It runs over the
// rows and then over the columns, which finds what is thin the other way.
type sweep struct {
	profiler
	path path

	starts      []int // by scan line, the first profile that starts there, or -1
	climb, fall []edge
	drops       []drop

	bits    *glyph.Bitmap
	across  int // pixels along a scan line
	columns bool
}

// edge is a profile on the scan line of the moment.
type edge struct {
	x       int
	at      int // its crossing with the next line, in store
	step    int
	profile int
}

// drop is a span between two crossings that holds no pixel centre.
type drop struct{ x1, x2, left, right int }

func (s *sweep) outline(o *glyph.Outline, b *glyph.Bitmap, d glyph.Dropout, p precision) error {
	s.bits, s.precision, s.mode = b, p, d
	if d&2 != 0 {
		s.mode = glyph.DropoutOff
	}
	scale := p.one / 64
	if err := s.path.of(o, scale, vec{-b.Left*p.one - p.half, -b.Bottom*p.one - p.half}); err != nil {
		return err
	}
	s.columns, s.across = false, b.Width
	s.pass(o.Modes, b.Height)
	s.path.transpose()
	s.columns, s.across = true, b.Height
	s.pass(o.Modes, b.Width)
	return nil
}

func (s *sweep) pass(modes []glyph.Dropout, lines int) {
	bands(lines, func(low, high int) bool {
		if !s.cut(&s.path, modes, low, high) {
			return false
		}
		if len(s.list) > 1 {
			s.scan(low, high)
		}
		return true
	})
}

// scan draws the scan lines from low to high.
func (s *sweep) scan(low, high int) {
	s.sortByStart(low, high)
	s.climb, s.fall = s.climb[:0], s.fall[:0]
	for y := low; y <= high; {
		s.enter(s.starts[y-low])
		turn := high + 1 // the next line on which profiles come or go
		for _, e := range s.climb {
			turn = min(turn, s.list[e.profile].end+1)
		}
		for _, e := range s.fall {
			turn = min(turn, s.list[e.profile].end+1)
		}
		for first := true; y < turn && (first || s.starts[y-low] < 0); y++ {
			first = false
			s.advance(s.climb)
			s.advance(s.fall)
			if s.columns {
				s.column(y)
			} else {
				s.row(y)
			}
		}
		s.climb, s.fall = s.leave(s.climb, y), s.leave(s.fall, y)
	}
}

// sortByStart chains the profiles that start on each line, in their order.
func (s *sweep) sortByStart(low, high int) {
	n := high - low + 1
	if cap(s.starts) < n {
		s.starts = make([]int, n)
	}
	s.starts = s.starts[:n]
	for i := range s.starts {
		s.starts[i] = -1
	}
	for i := len(s.list) - 1; i >= 0; i-- {
		p := &s.list[i]
		p.link = s.starts[p.start-low]
		s.starts[p.start-low] = i
	}
}

// enter takes up the profiles chained from i. A new one stands before the first
// edge right of zero until its own crossing is known: of edges that meet, the
// order in which they came decides, and it is FreeType's.
func (s *sweep) enter(i int) {
	for ; i >= 0; i = s.list[i].link {
		p := &s.list[i]
		edges := &s.fall
		if p.up {
			edges = &s.climb
		}
		e := append(*edges, edge{})
		k := len(e) - 1
		for j := range k {
			if e[j].x > 0 {
				k = j
				break
			}
		}
		copy(e[k+1:], e[k:])
		e[k] = edge{at: p.first, step: p.step, profile: i}
		*edges = e
	}
}

// advance moves edges to the next scan line and keeps them in order of x, those
// that meet in the order they had.
func (s *sweep) advance(edges []edge) {
	for i := range edges {
		e := &edges[i]
		e.x = s.store[e.at]
		e.at += e.step
		for j := i; j > 0 && edges[j-1].x > edges[j].x; j-- {
			edges[j-1], edges[j] = edges[j], edges[j-1]
		}
	}
}

// leave drops the edges that end before line y.
func (s *sweep) leave(edges []edge, y int) []edge {
	kept := edges[:0]
	for _, e := range edges {
		if s.list[e.profile].end >= y {
			kept = append(kept, e)
		}
	}
	return kept
}

// empty says that two crossings lie strictly between the same two centres.
func (s *sweep) empty(x1, x2 int) bool {
	a, b := s.floor(x1), s.ceil(x2)
	return x2-x1 <= s.one && b == a+s.one && a != x1 && b != x2
}
