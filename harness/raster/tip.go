package raster

import "smokeproof/harness/glyph"

// keepTips looks at what was drawn, and turns on a pixel for each tip whose row is blank
// about it: no pixel's centre lies in the outline there, and dropout control leaves out
// stubs. It is the pixel that holds the tip, where ink of the row before touches it.
func keepTips(b *glyph.Bitmap, o *glyph.Outline) {
	for _, t := range o.Tips {
		p := o.Points[t.Point]
		x, y, before := min(max(b.Left, p.X.Floor()), b.Right()-1), p.Y.Floor(), 1
		if t.Top {
			y, before = y-1, -1
		}
		if !inkAbout(b, x, y) && inkAbout(b, x, y+before) {
			b.Set(x, y, 1)
		}
	}
}

// inkAbout says that a pixel is on, or one beside it in its row.
func inkAbout(b *glyph.Bitmap, x, y int) bool {
	return b.At(x-1, y)|b.At(x, y)|b.At(x+1, y) != 0
}
