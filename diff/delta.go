package diff

import "smokeproof/harness/glyph"

// delta is the difference of a pair after its best common shift.
type delta struct {
	golden, candidate plane
	shift             Move // that was undone: candidate minus golden
	lost, gained      int  // pixels of ink on the device grid, before the shift
	desk              *desk
}

// newDelta compares on the device grid about the origin. A shift is taken only
// where it explains three quarters of the difference or more and no other does as well.
func newDelta(a, b *glyph.Bitmap, on *desk) delta {
	d := delta{desk: on}
	d.golden, d.candidate = planes(a, b, Move{}, &on.pair)
	d.lost, d.gained = count(&d.golden, &d.candidate)
	if d.lost == 0 || d.gained == 0 {
		return d
	}
	limit := (d.lost + d.gained) / 4
	best, tie := limit+1, false
	for _, s := range shifts(a, b) {
		if s == (Move{}) || endStays(a, b, s) {
			continue
		}
		switch n := d.apart(a, b, s, best); {
		case n < best:
			best, tie, d.shift = n, false, s
		case n == best:
			tie = true
		}
	}
	if best > limit || tie {
		d.shift = Move{}
		return d
	}
	d.golden, d.candidate = planes(a, b, Move{-d.shift.DX, -d.shift.DY}, &on.pair)
	return d
}

// endStays says that an end of the ink is where it was, on an axis along which all is said to have
// moved: of an i whose x-height and accent came down together the foot stands still.
func endStays(a, b *glyph.Bitmap, m Move) bool {
	s, t := a.Tight(), b.Tight()
	return m.DY != 0 && (s.Bottom == t.Bottom || s.Top() == t.Top()) || m.DX != 0 && (s.Left == t.Left || s.Right() == t.Right())
}

// far says that a move is beyond the reach within which all are tried.
func (m Move) far() bool { return max(abs(m.DX), abs(m.DY)) > shiftReach }

// shifts lists the moves worth trying: what the boxes suggest, and all within reach.
func shifts(a, b *glyph.Bitmap) []Move {
	s, t := a.Tight(), b.Tight()
	list := make([]Move, 0, (2*shiftReach+1)*(2*shiftReach+1)+1)
	for dy := -shiftReach; dy <= shiftReach; dy++ {
		for dx := -shiftReach; dx <= shiftReach; dx++ {
			list = append(list, Move{dx, dy})
		}
	}
	if box := (Move{t.Left - s.Left, t.Bottom - s.Bottom}); box.far() {
		list = append(list, box)
	}
	return list
}

// apart counts the pixels that differ once a shift is undone, and gives up
// above the limit. Within reach the margin holds all ink.
func (d *delta) apart(a, b *glyph.Bitmap, m Move, limit int) int {
	if m.far() {
		g, c := planes(a, b, Move{-m.DX, -m.DY}, &d.desk.tried)
		lost, gained := count(&g, &c)
		return lost + gained
	}
	g, c := d.golden.v, d.candidate.v
	step, n := m.DY*d.golden.w+m.DX, 0
	for i := max(0, -step); i < min(len(g), len(c)-step) && n <= limit; i++ {
		if g[i] != c[i+step] {
			n++
		}
	}
	return n
}

// count gives the pixels that lost and gained ink.
func count(g, c *plane) (lost, gained int) {
	for i, v := range g.v {
		switch {
		case v > c.v[i]:
			lost++
		case v < c.v[i]:
			gained++
		}
	}
	return lost, gained
}

func abs(n int) int { return max(n, -n) }
