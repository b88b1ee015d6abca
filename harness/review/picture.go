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

// maxPlate bounds a picture of the page in pixels: a drawing that an outline or a worker
// made too large, or threw too far, would fill disks and hang browsers.
const maxPlate = 1 << 22 // 60 pt at 2400 dpi have 4 million

// tooLarge says so of the box around two pictures, either of which may be nil.
func tooLarge(a, b *harness.Picture) bool {
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
	return width > maxPlate/height
}
