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
	turns := map[int32]struct{}{}
	for i := range p.list {
		turns[p.list[i].start] = struct{}{}
		turns[p.list[i].end+1] = struct{}{}
	}
	return p.left() > len(turns)
}

// band is a stretch of scan lines; bands are those still to be drawn, the next
// one last. They are halved too often for an int only where one line does not fit,
// and that one is drawn all the same.
type (
	band  struct{ low, high int }
	bands [64]band
)

// halves are a band's lower and upper half.
func (b band) halves() (lower, upper band) {
	mid := (b.low + b.high) >> 1
	return band{b.low, mid}, band{mid + 1, b.high}
}
