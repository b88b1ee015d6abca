package raster

// stretch is a piece of contour that only climbs or only falls, as its crossings with the scan lines
// that it meets, in its order.
type stretch struct {
	up       bool
	tip      bool // its first crossing and the one before are the tip of a stroke
	line     int  // the first
	from, to int  // among the crossings of all stretches
	end      int  // where it ends, past its last line
}

// bar is crossings that are the same: n from at on.
type bar struct{ at, n, x int }

const (
	climbing = 1
	falling  = -1
)

// way is the step from one line to the next.
func (s *stretch) way() int {
	if s.up {
		return climbing
	}
	return falling
}

// draw puts the contour on a sheet.
func (t *tracer) draw(h *sheet) {
	if t.stubs {
		t.findTips()
	}
	bars := t.bars
	for i := range t.list {
		s := &t.list[i]
		if s.tip {
			h.spare(int(t.xs[s.from]), s.line, t.columns)
		}
		at, line, way := s.from, s.line, s.way()
		for len(bars) > 0 && bars[0].at < s.to {
			b := &bars[0]
			t.give(h, at, b.at, line, way)
			line += (b.at - at) * way
			t.straight(h, b, line, way)
			at, line, bars = b.at+b.n, line+b.n*way, bars[1:]
		}
		t.give(h, at, s.to, line, way)
	}
}

// findTips looks where the last crossing of a stretch and the first of the next, which are with one
// line, lie in one gap. They are the tip of a stroke, which where stubs are left out is not mended
// (see stub): the gap counts them as one. If no other edge crosses it, and the pixels beside it are
// off, the two are a span, or each is one with an edge elsewhere, and neither shows.
func (t *tracer) findTips() {
	spared := -1 // of three edges only two are counted as one
	for i := 1; i < len(t.list); i++ {
		e, m := &t.list[i-1], &t.list[i]
		if e.empty() || m.empty() || e.to-1 == spared {
			continue
		}
		from, to := int(t.xs[e.to-1]), int(t.xs[m.from])
		if t.ceil(from) == t.ceil(to) && !(t.blunt(e) && abs(to-from) >= t.half) {
			m.tip, spared = true, m.from
		}
	}
}

func (s *stretch) empty() bool { return s.from == s.to }

// blunt says that a stretch goes on past its last line for half a pixel or more.
func (t *tracer) blunt(s *stretch) bool {
	low, top := t.overshoot(s.end)
	return s.up && top || !s.up && low
}

// give puts crossings in a row on the sheet.
func (t *tracer) give(h *sheet, from, to, line, way int) {
	switch {
	case from == to:
	case t.columns:
		h.column(t.xs[from:to], line, way)
	default:
		h.row(t.xs[from:to], line, way)
	}
}

// straight puts a bar on the sheet.
func (t *tracer) straight(h *sheet, b *bar, line, way int) {
	low, high := line, line+b.n-1
	if way < 0 {
		low, high = line-b.n+1, line
	}
	if t.columns {
		h.bar(b.x, low, high)
	} else {
		h.stem(b.x, low, high, way > 0)
	}
}
