package raster

// words hands out the words of bitmaps from blocks, so that a small glyph costs
// no allocation of its own. A block lives as long as any bitmap in it.
type words struct{ block []uint64 }

const blockWords = 1024

// take returns n words, all zero.
func (w *words) take(n int) []uint64 {
	if n > blockWords/4 {
		return make([]uint64, n)
	}
	if n > len(w.block) {
		w.block = make([]uint64, blockWords)
	}
	taken := w.block[:n]
	w.block = w.block[n:]
	return taken
}

// giveBack returns all but the first words of the n that were taken last.
func (w *words) giveBack(used []uint64, n int) {
	if n > blockWords/4 {
		return
	}
	spare := used[len(used):n]
	clear(spare)
	w.block = used[len(used) : n+len(w.block)]
}
