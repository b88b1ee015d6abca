package raster

import (
	"math/bits"

	"smokeproof/harness/glyph"
)

// fill draws a bitmap, but for the rows in doubt, which stay blank. Where a pixel beside a
// gap is on, no dropout in it shows; where mends is false, none is mended.
func (h *sheet) fill(b *glyph.Bitmap, mends bool) (doubt bool) {
	h.rowsInDoubt, h.columnsInDoubt = h.rowsInDoubt[:0], h.columnsInDoubt[:0]
	crowded := uint64(0)
	if h.words == 1 {
		crowded = h.fillNarrow(b, mends)
	} else {
		crowded = h.fillWide(b, mends)
	}
	for _, t := range h.tallies[b.Height*h.words:] {
		crowded |= t.crowded
	}
	return mends && crowded != 0 && h.crowds(b) || len(h.rowsInDoubt) > 0
}

// fillNarrow is fillWide for rows of one tally, as most are, in half the instructions.
func (h *sheet) fillNarrow(b *glyph.Bitmap, mends bool) (crowded uint64) {
	last := b.Height - 1
	end := ^uint64(0) << (63 - (b.Width-1)&63)
	tallies, words := h.tallies[:last+1], b.Words[:last+1]
	for y := range tallies {
		t := &tallies[y]
		both := t.up & t.down
		climb, fall := t.up^both, t.down^both
		in := between(climb, fall)
		if !inTurn(climb, fall, in) {
			if in = between(fall, climb); !inTurn(fall, climb, in) {
				in = wound(climb, fall, 0)
			}
		}
		on := in | t.hit
		crowded |= t.crowded
		if both|t.near|t.twice != 0 && (mends && both&^t.tip&^(on|on>>1)|t.near&(t.near>>1) != 0 || t.twice != 0) {
			h.rowsInDoubt = append(h.rowsInDoubt, int32(y))
			continue
		}
		words[last-y] = (on | t.struck) & end
	}
	return crowded
}

func (h *sheet) fillWide(b *glyph.Bitmap, mends bool) (crowded uint64) {
	end := ^uint64(0) << (63 - (b.Width-1)&63) // of the last word of a row
	for y := range b.Height {
		row := h.tallies[y*h.words:][:h.words]
		words := b.Words[(b.Height-1-y)*b.Stride:][:b.Stride]
		twice, doubt := uint64(0), uint64(0)
		on, near, winding := uint64(0), uint64(0), 0 // of the word before
		for i := range row {
			t := &row[i]
			before, nearBefore := on<<63, near<<63
			on, winding = t.inside(winding)
			on |= t.hit
			near = t.near
			doubt |= t.up&t.down&^t.tip&^(on|on>>1|before) | near&(near>>1|nearBefore)
			twice |= t.twice
			crowded |= t.crowded
			if i < len(words) {
				words[i] = on | t.struck
			}
		}
		words[len(words)-1] &= end
		if doubt != 0 && mends || twice != 0 {
			clear(words)
			h.rowsInDoubt = append(h.rowsInDoubt, int32(y))
		}
	}
	return crowded
}

// crowds marks the columns in which a gap between two pixels that are off holds several
// crossings.
func (h *sheet) crowds(b *glyph.Bitmap) (doubt bool) {
	h.columnsInDoubt = resize(h.columnsInDoubt, b.Stride)
	clear(h.columnsInDoubt)
	for y := range b.Height + 1 {
		for i := range b.Stride {
			columns := h.tallies[y*h.words+i].crowded
			if columns == 0 {
				continue
			}
			if y < b.Height {
				columns &^= b.Row(b.Height - 1 - y)[i]
			}
			if y > 0 {
				columns &^= b.Row(b.Height - y)[i]
			}
			h.columnsInDoubt[i] |= columns
			doubt = doubt || columns != 0
		}
	}
	return doubt
}

// strike turns on the pixels of a row that columns strike.
func (h *sheet) strike(b *glyph.Bitmap, y int) {
	words := b.Row(b.Height - 1 - y)
	for i := range words {
		words[i] |= h.tallies[y*h.words+i].struck
	}
}

// listColumns lists the columns in doubt.
func (h *sheet) listColumns() []int32 {
	h.columns = h.columns[:0]
	for i, set := range h.columnsInDoubt {
		for ; set != 0; set &= set - 1 {
			h.columns = append(h.columns, int32(64*i+63-bits.TrailingZeros64(set)))
		}
	}
	return h.columns
}
