package raster

import "math"

// FreeType's scan converter keeps its profiles in a pool of fixed size
// (FT_RENDER_POOL_SIZE, 16 KB). A glyph that does not fit is drawn in bands of
// scan lines, halved until each fits. Where a band ends a profile ends, and at
// that line the tip of a stroke may be taken for a stub or a dropout for none, so
// the bands show in bitmaps of large glyphs. These are the pool's figures, in
// words of 8 bytes; memory here is not bounded by them.
const (
	poolWords    = 16384 / 8
	profileWords = 8
)

// left is what the pool has left for crossings and scan lines at which profiles
// turn: room is kept for the open profile and one more.
func (p *profiler) left() int {
	if p.whole {
		return math.MaxInt
	}
	return poolWords - (len(p.list)+2)*profileWords - len(p.store)
}

// turnsFit says that the pool also holds the lines at which a profile starts, or
// after which one ends, each once.
func (p *profiler) turnsFit() bool {
	if p.left() > 2*len(p.list) {
		return true
	}
	turns := map[int]struct{}{}
	for i := range p.list {
		turns[p.list[i].start] = struct{}{}
		turns[p.list[i].end+1] = struct{}{}
	}
	return p.left() > len(turns)
}

// bands calls draw for stretches of scan lines, the highest first, halving one
// for which draw is false. A single line is drawn in any case.
func bands(lines int, draw func(low, high int) bool) {
	type band struct{ low, high int }
	for wait := []band{{0, lines - 1}}; len(wait) > 0; {
		b := wait[len(wait)-1]
		wait = wait[:len(wait)-1]
		if !draw(b.low, b.high) {
			mid := (b.low + b.high) >> 1
			wait = append(wait, band{b.low, mid}, band{mid + 1, b.high})
		}
	}
}
