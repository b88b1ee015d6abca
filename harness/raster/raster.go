// Package raster turns fitted outlines, in 26.6 device pixels with Y up, into bitmaps of
// one bit a pixel or of grey. All of it is integer arithmetic.
//
// By pixel centres it gives FreeType's bitmaps, bit for bit: contours are followed by rows
// and by columns (trace, tracers, tracer), where they meet scan lines (meet, arc) is put on a sheet
// (stretch, tally, repeat), and that is drawn (fill, winding). Lines in doubt are drawn from their edges
// in order (doubt, sweep, span), cut into profiles that only climb or only fall (path, curve, crossing,
// profile), and dropouts mended by the rules of the OpenType specification, "SCANTYPE[]" (dropout). The
// other fills and grey go by the area covered (area, union, tangle).
package raster

import (
	"errors"
	"fmt"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// ErrTooLarge says that an outline's box has more pixels than MaxPixels.
var ErrTooLarge = errors.New("outline too large")

// ErrMalformed says that the points of a contour are in an order that no curve
// has: it begins with a cubic control, or one such control stands alone.
var ErrMalformed = errors.New("malformed contour")

// MaxPixels bounds a bitmap's area: a glyph of 72 pt at 2400 dpi has 5.8
// million pixels.
const MaxPixels = 1 << 26

// maxReach is how far from the origin a bitmap may reach, in pixels: FreeType
// refuses the same (ftobjs.c, ft_glyphslot_preset_bitmap).
const maxReach = 1<<15 - 1

// Rasterizer turns outlines into bitmaps. It keeps its buffers between calls
// and is for one goroutine; the zero value is ready.
type Rasterizer struct {
	// HighPrecision computes crossings to 1/4096 px instead of 1/64. FreeType
	// does so below 24 ppem (ttgload.c).
	HighPrecision bool

	sweep sweep
	area  areas
	words []uint64 // of the bitmap drawn last
}

// Forget says that the outlines to come are of another face or size, whose contours have
// other numbers (glyph.Outline.Recurs).
func (r *Rasterizer) Forget() { r.sweep.repeats.forget() }

// Bilevel scan-converts an outline in 26.6 device pixels, Y up. The bitmap is
// tight, of depth 1, and its words are the Rasterizer's, which uses them again. Center fill follows the TrueType
// rules 1 to 6 (OpenType, "SCANTYPE[]"); the other rules go by the area of each
// pixel that the outline covers, and have no dropout control.
// It fails with ErrTooLarge where the outline has too many pixels or reaches too
// far, or, in a fill by area, has too many edges in one row; with ErrMalformed where
// a contour makes no sense.
func (r *Rasterizer) Bilevel(o *glyph.Outline, fill glyph.Fill, dropout glyph.Dropout) (glyph.Bitmap, error) {
	grid := wholePixels
	if fill == glyph.Center {
		grid = pixelCenters
	}
	b, err := r.box(o, 1, grid)
	if err != nil || b.Width == 0 || b.Height == 0 {
		return glyph.Bitmap{Depth: 1}, err
	}
	if fill == glyph.Center {
		p := coarse
		if r.HighPrecision {
			p = fine
		}
		if err := r.sweep.outline(o, b, dropout, p); err != nil {
			return glyph.Bitmap{}, err
		}
		if dropout != glyph.DropoutOff {
			keepTips(&b, o)
		}
		return trim(b), nil
	}
	if err := r.area.outline(o, &b); err != nil {
		return glyph.Bitmap{}, err
	}
	least := leastArea(fill)
	r.area.each(func(y int, line []int32) {
		row := b.Row(y)
		for x, area := range line {
			if area >= least {
				row[x>>6] |= 1 << (63 - x&63)
			}
		}
	})
	return trim(b), nil
}

// leastArea is how much of a pixel must be covered to turn it on.
func leastArea(fill glyph.Fill) int32 {
	switch fill {
	case glyph.Inside:
		return fullArea
	case glyph.Majority:
		return fullArea / 2
	}
	return 1
}

// Grey gives each pixel its coverage, 0 to 255, depth 8: the area where the
// outline's winding number is not zero, however many contours cover it. It is
// exact on a grid of 1/256 px, to which points, chords of curves (within 1/512 px)
// and crossings of edges are rounded. Its words are the Rasterizer's, as in Bilevel.
func (r *Rasterizer) Grey(o *glyph.Outline) (glyph.Bitmap, error) {
	b, err := r.box(o, 8, wholePixels)
	if err != nil || b.Width == 0 || b.Height == 0 {
		return glyph.Bitmap{Depth: 8}, err
	}
	if err := r.area.outline(o, &b); err != nil {
		return glyph.Bitmap{}, err
	}
	r.area.each(func(y int, line []int32) {
		row := b.Row(y)
		for x, area := range line {
			row[x>>3] |= uint64(min(area>>9, 255)) << (56 - 8*(x&7))
		}
	})
	return trim(b), nil
}

// trim makes a bitmap tight.
func trim(b glyph.Bitmap) glyph.Bitmap {
	if b.Trim(); b.Width == 0 {
		return glyph.Bitmap{Depth: b.Depth}
	}
	b.Words = b.Words[:len(b.Words):len(b.Words)]
	return b
}

// mostKept bounds the words that are kept for the next bitmap.
const mostKept = 1 << 15

// take gives n words, all zero.
func (r *Rasterizer) take(n int) []uint64 {
	if n > mostKept {
		return make([]uint64, n)
	}
	r.words = slices.Grow(r.words[:0], n)[:n]
	clear(r.words)
	return r.words
}

// box is the rectangle for every point, controls among them, by the rule of grid.
func (r *Rasterizer) box(o *glyph.Outline, depth int, grid func(lo, hi fixed.Int26_6) (int, int)) (glyph.Bitmap, error) {
	if len(o.Points) == 0 || len(o.Ends) == 0 {
		return glyph.Bitmap{Depth: depth}, nil
	}
	p := o.Points[0]
	x0, x1, y0, y1 := p.X, p.X, p.Y, p.Y
	for _, p := range o.Points {
		x0, x1 = min(x0, p.X), max(x1, p.X)
		y0, y1 = min(y0, p.Y), max(y1, p.Y)
	}
	const far = fixed.Int26_6(maxReach << 6)
	if x0 < -far || x1 > far || y0 < -far || y1 > far {
		return glyph.Bitmap{}, fmt.Errorf("%w: it reaches more than %d px from the origin", ErrTooLarge, maxReach)
	}
	left, right := grid(x0, x1)
	bottom, top := grid(y0, y1)
	w, h := right-left, top-bottom
	if w*h > MaxPixels {
		return glyph.Bitmap{}, fmt.Errorf("%w: %d × %d pixels, the limit is %d", ErrTooLarge, w, h, MaxPixels)
	}
	stride := (w*depth + 63) / 64
	return glyph.Bitmap{
		Left: left, Bottom: bottom, Width: w, Height: h, Depth: depth, Stride: stride, Words: r.take(stride * h),
	}, nil
}

func wholePixels(lo, hi fixed.Int26_6) (int, int) { return lo.Floor(), hi.Ceil() }

// pixelCenters keeps the pixels whose centres lie in the range, ends included.
// Where there are none it keeps one, on the side of the larger remainder. A
// dropout is mended inside this range only, as FreeType does (ftobjs.c).
func pixelCenters(lo, hi fixed.Int26_6) (int, int) {
	a, b := int(lo+31)>>6, int(hi+32)>>6
	if a == b {
		if int(lo+31)&63-31+int(hi+32)&63-32 < 0 {
			a--
		} else {
			b++
		}
	}
	return a, b
}
