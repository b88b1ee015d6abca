//go:build cgo

package main

/*
#include <ft2build.h>
#include FT_FREETYPE_H
*/
import "C"

import (
	"fmt"
	"unsafe"

	"smokeproof/harness/glyph"
)

// bitmap copies what FreeType drew. Its rows run top to bottom where the pitch
// is positive; bitmap_top is the row above the highest one, Y up.
func bitmap(slot C.FT_GlyphSlot, grey bool) (glyph.Bitmap, error) {
	src := &slot.bitmap
	width, rows, pitch := int(src.width), int(src.rows), int(src.pitch)
	depth := 1
	if grey {
		depth = 8
	}
	b := glyph.NewBitmap(int(slot.bitmap_left), int(slot.bitmap_top)-rows, width, rows, depth)
	if width == 0 || rows == 0 {
		return b, nil
	}
	if pitch < 0 {
		return b, fmt.Errorf("a FreeType bitmap with rows from bottom to top is not supported")
	}
	pixels := unsafe.Slice((*byte)(unsafe.Pointer(src.buffer)), pitch*rows)
	bilevel := src.pixel_mode == C.FT_PIXEL_MODE_MONO
	if !bilevel && (src.pixel_mode != C.FT_PIXEL_MODE_GRAY || !grey) {
		return b, fmt.Errorf("a FreeType bitmap of pixel mode %d is not supported in this strike", int(src.pixel_mode))
	}
	for y := range rows {
		row := pixels[y*pitch:]
		for x := range width {
			v := uint8(0)
			if !bilevel {
				v = row[x]
			} else if row[x/8]>>(7-x%8)&1 != 0 {
				v = b.Max()
			}
			b.Set(b.Left+x, b.Top()-1-y, v)
		}
	}
	return b, nil
}
