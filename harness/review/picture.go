package review

import (
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
