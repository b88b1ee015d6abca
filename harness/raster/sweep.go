package raster

import (
	"cmp"
	"slices"

	"smokeproof/harness/glyph"
)

// sweep fills outlines by pixel centres and mends dropouts. It runs over the
// rows and then over the columns, which finds what is thin the other way: over all of
// their edges in order where FreeType draws in bands, over those of lines in doubt elsewhere.
type sweep struct {
	profiler
	path path

	starts      []int32 // by scan line, the first profile that starts there, or -1
	climb, fall []edge
	drops       []drop

	sheet   sheet
	by      tracers
	repeats repeats

	bitmap  glyph.Bitmap
	across  int // pixels along a scan line
	columns bool
}

// edge is a profile on the scan line of the moment.
type edge struct {
	x       int32
	at      int32 // its crossing with the next line, in store
	profile int32
}

func (s *sweep) outline(o *glyph.Outline, b glyph.Bitmap, d glyph.Dropout, p precision) error {
	s.bitmap, s.precision, s.mode = b, p, d
	if d&2 != 0 {
		s.mode = glyph.DropoutOff
	}
	fits, err := s.trace(o)
	if err != nil {
		return err
	}
	if fits && !s.sheet.fill(&s.bitmap, s.by.row.mends || s.by.column.mends) {
		return nil
	}
	if !fits || !s.settle(o) {
		s.inOrder(o)
	}
	return nil
}

// inOrder draws all lines from their edges in order.
func (s *sweep) inOrder(o *glyph.Outline) {
	clear(s.bitmap.Words)
	s.read(o)
	s.face(false)
	s.bands(o.Modes)
	s.face(true)
	s.bands(o.Modes)
}

// read makes the path of an outline whose contours trace found to make sense.
func (s *sweep) read(o *glyph.Outline) { _ = s.path.of(o, s.bits-6, s.shift()) }

// shift moves points so that pixel centres lie on whole multiples of one, the first on zero.
func (s *sweep) shift() vec {
	return vec{-s.bitmap.Left<<s.bits - s.half, -s.bitmap.Bottom<<s.bits - s.half}
}

// face turns to the rows or the columns.
func (s *sweep) face(columns bool) {
	s.across = s.bitmap.Width
	if columns {
		s.path.transpose()
		s.across = s.bitmap.Height
	}
	s.columns = columns
}

// bands draws all scan lines one way, in as many bands as the pool asks for.
func (s *sweep) bands(modes []glyph.Dropout) {
	lines := s.bitmap.Width + s.bitmap.Height - s.across
	bands := bands{{0, lines - 1}}
	for n := 1; n > 0; {
		n--
		b := bands[n]
		if !s.cut(&s.path, modes, b.low, b.high) {
			bands[n], bands[n+1] = b.halves()
			n += 2
		} else {
			s.scan(b.low, b.high)
		}
	}
}

// scan draws the scan lines from low to high.
func (s *sweep) scan(low, high int) {
	s.sortByStart(low, high)
	s.climb, s.fall = s.climb[:0], s.fall[:0]
	starts := s.starts
	for y := low; y <= high; {
		s.enter(starts[y-low])
		end := int32(high) // of the first profile to end
		for i := range s.climb {
			end = min(end, s.list[s.climb[i].profile].end)
		}
		for i := range s.fall {
			end = min(end, s.list[s.fall[i].profile].end)
		}
		for {
			s.advance(s.climb)
			s.advance(s.fall)
			if s.columns {
				s.column(y)
			} else {
				s.row(y)
			}
			if y++; y > int(end) || starts[y-low] >= 0 {
				break
			}
		}
		if y > int(end) {
			s.climb, s.fall = s.leave(s.climb, y), s.leave(s.fall, y)
		}
	}
}

// sortByStart chains the profiles that start on each line, in their order.
func (s *sweep) sortByStart(low, high int) {
	n := high - low + 1
	if cap(s.starts) < n {
		s.starts = make([]int32, n)
	}
	s.starts = s.starts[:n]
	for i := range s.starts {
		s.starts[i] = -1
	}
	for i := len(s.list) - 1; i >= 0; i-- {
		p := &s.list[i]
		first := &s.starts[int(p.start)-low]
		p.link, *first = *first, int32(i)
	}
}

// enter takes up the profiles chained from i. A new one stands before the first
// edge right of zero until its own crossing is known: of edges that meet, the
// order in which they came decides, and it is FreeType's.
func (s *sweep) enter(i int32) {
	for i >= 0 {
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
		e[k] = edge{at: p.first, profile: i}
		*edges = e
		i = p.link
	}
}

// crowd is the number of edges on a line, more than letters have, from which on
// sorting by insertion would take too long.
const crowd = 64

// advance moves edges to the next scan line and keeps them in order of x, those
// that meet in the order they had.
func (s *sweep) advance(edges []edge) {
	store := s.store
	for i := range edges {
		e := &edges[i]
		e.x = store[e.at]
		e.at++
		if len(edges) > crowd {
			continue
		}
		for j := i; j > 0 && edges[j-1].x > edges[j].x; j-- {
			edges[j-1], edges[j] = edges[j], edges[j-1]
		}
	}
	if len(edges) > crowd {
		slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(a.x, b.x) })
	}
}

// leave drops the edges that end before line y.
func (s *sweep) leave(edges []edge, y int) []edge {
	kept := edges[:0]
	for _, e := range edges {
		if int(s.list[e.profile].end) >= y {
			kept = append(kept, e)
		}
	}
	return kept
}
