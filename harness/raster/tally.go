package raster

// tally is what crossings come to in 64 pixels of a row. A bit of each word is a
// pixel, the highest the leftmost. Between the centre of a pixel and that of the one to
// the left, or below, is a gap; it holds the one centre, but not the other.
//
// Most glyphs are drawn from tallies alone, to which crossings add in any order: from the
// winding number at each centre, and the centres through which an edge runs. Every such
// centre is on: as many edges of a line climb as fall, so that each is the end of a span.
// Edges need to be put in order only on lines in doubt: where a dropout may have to be
// mended, a stroke of a pixel may have come out two wide, or edges could not be counted.
type tally struct {
	up, down       uint64 // the gap to the left holds an edge of the row that climbs, that falls
	twice          uint64 // it holds two that go the same way, or more
	tip            uint64 // two of its edges, which go both ways, are the tip of a stroke
	hit            uint64 // an edge runs through the centre, along the row
	near           uint64 // an edge of the row passes the centre within jitter
	struck         uint64 // an edge runs through the centre, along the column
	below, crowded uint64 // the gap below holds a crossing of the column; it holds several
}

// mostTallies holds the memory for them to two megabytes.
const mostTallies = 1 << 14

// sheet holds the tallies of a bitmap by rows, the lowest first, and of a row more
// for the gaps above the last.
type sheet struct {
	precision
	tallies     []tally
	words       int // tallies of a row
	rows, width int

	rowsInDoubt    []int32
	columnsInDoubt []uint64 // a bit a column
	columns        []int32  // the same as a list
}

// clean makes the sheet that of an empty bitmap.
func (h *sheet) clean(p precision, width, rows int) {
	h.precision, h.width, h.rows, h.words = p, width, rows, width>>6+1
	h.tallies = resize(h.tallies, h.words*(rows+1))
	clear(h.tallies)
}

// row takes the crossings of an edge with rows, from line on upwards, or where step is
// -1 downwards.
func (h *sheet) row(xs []int32, line, step int) {
	bits, fraction, near, close := h.bits&31, h.one-1, h.jitter, 2*h.jitter-2
	tallies, words, up := h.tallies, h.words, step > 0
	at := line * words
	step *= words
	for _, x := range xs {
		v := int(x) + fraction
		gap := v >> bits
		tallies[at+gap>>6].cross(gap, up)
		if v += near; v&fraction <= close {
			if pixel := v>>bits - 1; pixel >= 0 {
				tallies[at+pixel>>6].pass(pixel, v&fraction == near-1)
			}
		}
		at += step
	}
}

// cross notes an edge in a gap.
func (t *tally) cross(gap int, up bool) {
	bit := uint64(1) << 63 >> (gap & 63)
	if up {
		t.twice |= t.up & bit
		t.up |= bit
	} else {
		t.twice |= t.down & bit
		t.down |= bit
	}
}

// pass notes that an edge runs through a pixel's centre, or close by.
func (t *tally) pass(pixel int, through bool) {
	if through {
		t.hit |= 1 << 63 >> (pixel & 63)
	} else {
		t.near |= 1 << 63 >> (pixel & 63)
	}
}

// column takes the crossings of an edge with columns, from line on to the right, or
// where step is -1 to the left.
func (h *sheet) column(ys []int32, line, step int) {
	bits, fraction, words := h.bits&31, h.one-1, h.words
	for _, y := range ys {
		v := int(y) + fraction
		bit := uint64(1) << (63 - line&63)
		t := &h.tallies[v>>bits*words+line>>6]
		t.crowded |= t.below & bit
		t.below |= bit
		if v&fraction == fraction {
			t.struck |= bit
		}
		line += step
	}
}

// bar takes the crossings of a level edge at y with the columns from left to right.
func (h *sheet) bar(y, left, right int) {
	v := y + h.one - 1
	row := h.tallies[v>>h.bits*h.words:][:h.words]
	for w := left >> 6; w <= right>>6; w++ {
		bits := ^uint64(0)
		if w == left>>6 {
			bits >>= left & 63
		}
		if w == right>>6 {
			bits &= ^uint64(0) << (63 - right&63)
		}
		t := &row[w]
		t.crowded |= t.below & bits
		t.below |= bits
		if y&(h.one-1) == 0 {
			t.struck |= bits
		}
	}
}

// stem takes the crossings of an upright edge at x with the rows from low to high.
func (h *sheet) stem(x, low, high int, up bool) {
	v := x + h.one - 1
	gap := v >> h.bits
	words := h.words
	tallies := h.tallies[low*words : (high+1)*words]
	for i := gap >> 6; i < len(tallies); i += words {
		tallies[i].cross(gap, up)
	}
	if v += h.jitter; v&(h.one-1) > 2*h.jitter-2 {
		return
	}
	if pixel := v>>h.bits - 1; pixel >= 0 {
		for i := pixel >> 6; i < len(tallies); i += words {
			tallies[i].pass(pixel, v&(h.one-1) == h.jitter-1)
		}
	}
}

// spare notes that a gap's crossing, x on a row or column, and the one to come are a tip.
func (h *sheet) spare(x, line int, columns bool) {
	gap := (x + h.one - 1) >> h.bits
	if columns {
		h.tallies[gap*h.words+line>>6].below &^= 1 << (63 - line&63)
	} else {
		h.tallies[line*h.words+gap>>6].tip |= 1 << (63 - gap&63)
	}
}

// add puts a contour's tallies, one to a row, on the sheet from a pixel on.
func (h *sheet) add(tallies []tally, from pixel) {
	at, right := from.y*h.words+from.x>>6, uint(from.x&63)
	for i := range tallies {
		t := &tallies[i]
		h.tallies[at].add(t, right)
		if right > 0 && from.x>>6+1 < h.words {
			rest := t.left(64 - right)
			h.tallies[at+1].add(&rest, 0)
		}
		at += h.words
	}
}

// add adds another tally, moved to the right.
func (t *tally) add(u *tally, right uint) {
	right &= 63
	up, down, below := u.up>>right, u.down>>right, u.below>>right
	t.twice |= u.twice>>right | t.up&up | t.down&down
	t.up |= up
	t.down |= down
	t.tip |= u.tip >> right
	t.hit |= u.hit >> right
	t.near |= u.near >> right
	t.struck |= u.struck >> right
	t.crowded |= u.crowded>>right | t.below&below
	t.below |= below
}

// left is a tally moved to the left.
func (t *tally) left(by uint) tally {
	return tally{t.up << by, t.down << by, t.twice << by, t.tip << by, t.hit << by, t.near << by,
		t.struck << by, t.below << by, t.crowded << by}
}
