package harness

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// bareStray is how far, in 1/64 px, rounding carries points of one contour apart.
const bareStray = 2

// isBare says that hints did nothing to an outline: each of its contours is what the
// size makes of the design, moved as a whole if at all, as parts of a composite are to
// whole pixels. The size is the one asked for or, as faces may want it, the nearest
// whole one.
func isBare(fitted *glyph.Outline, d *glyph.Design, ppem glyph.PPEM) bool {
	if d == nil || d.UPEM == 0 || len(fitted.Points) != len(d.Outline.Points) || len(fitted.Points) == 0 {
		return false
	}
	x, y := ppem.Nominal()
	for _, p := range []glyph.PPEM{ppem, {X: fixed.I(x), Y: fixed.I(y)}} {
		scaled := d.Scaled(p)
		if onlyMoved(&scaled, fitted) {
			return true
		}
	}
	return false
}

// onlyMoved says that contours of b are those of a, each moved as a whole.
func onlyMoved(a, b *glyph.Outline) bool {
	start := 0
	for _, end := range a.Ends {
		by := fixed.Point26_6{X: b.Points[start].X - a.Points[start].X, Y: b.Points[start].Y - a.Points[start].Y}
		for i := start; i <= end; i++ {
			if apart(b.Points[i].X-a.Points[i].X, by.X) || apart(b.Points[i].Y-a.Points[i].Y, by.Y) {
				return false
			}
		}
		start = end + 1
	}
	return true
}

func apart(a, b fixed.Int26_6) bool { return max(a-b, b-a) > bareStray }
