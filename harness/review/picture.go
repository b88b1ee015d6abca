package review

import (
	"fmt"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// unpack gives a picture's bitmap; one that is missing or damaged has no ink.
func unpack(p *harness.Picture) glyph.Bitmap {
	if p != nil {
		if b, err := p.Unpack(); err == nil {
			return b
		}
	}
	return glyph.Bitmap{Depth: 1}
}

// inked says that a pixel has ink of half coverage and more.
func inked(b *glyph.Bitmap, x, y int) bool { return b.At(x, y) > b.Max()/2 }

func blank(b *glyph.Bitmap) bool { return b.Width == 0 || b.Height == 0 }

// A drawing that an outline or a worker made too large, or threw too far, is told
// in figures: as characters, or as canvases of the page, it would fill disks and
// hang browsers.
const (
	maxArt   = 1 << 16 // pixels as characters; 72 pt at 200 dpi have 40,000
	maxPlate = 1 << 22 // pixels on the page; 60 pt at 2400 dpi have 4 million
)

// tooLarge says in figures what is not shown, where a box has more than some
// pixels; "" where it has not.
func tooLarge(width, height, most int) string {
	if width <= 0 || height <= 0 || width <= most/height {
		return ""
	}
	return fmt.Sprintf("(%d × %d pixels: too large to show here)", width, height)
}

// tooLargeTogether says it of the box around two pictures, either of which may be nil.
func tooLargeTogether(a, b *harness.Picture, most int) bool {
	var inked []*harness.Picture
	for _, p := range []*harness.Picture{a, b} {
		if p != nil && p.Width > 0 && p.Height > 0 {
			inked = append(inked, p)
		}
	}
	if len(inked) == 0 {
		return false
	}
	g, d := inked[0], inked[len(inked)-1]
	width := max(g.Left+g.Width, d.Left+d.Width) - min(g.Left, d.Left)
	height := max(g.Bottom+g.Height, d.Bottom+d.Height) - min(g.Bottom, d.Bottom)
	return tooLarge(width, height, most) != ""
}
