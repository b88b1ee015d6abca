package raster

import "smokeproof/harness/glyph"

// Rasterizer turns outlines into bitmaps. It keeps its buffers between calls
// and is for one goroutine.
type Rasterizer struct{}

// Bilevel scan-converts an outline in 26.6 device pixels, Y up. The bitmap is
// tight and of depth 1, valid after the next call (its words are its own).
// It fails with ErrTooLarge where the outline's box exceeds the pixel limit.
func (r *Rasterizer) Bilevel(o *glyph.Outline, fill glyph.Fill, dropout glyph.Dropout) (glyph.Bitmap, error) {
	panic("being written")
}

// Grey gives each pixel its exact coverage, 0 to 255, depth 8.
func (r *Rasterizer) Grey(o *glyph.Outline) (glyph.Bitmap, error) {
	panic("being written")
}
