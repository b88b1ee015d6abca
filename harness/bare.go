package harness

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// bareStray is how far, in 1/64 px, rounding carries points of one contour apart.
const bareStray = 2

// isBare says that hints did nothing to an outline, or of a composite to its letter:
// the largest contour is what the size makes of the design, moved as a whole if at
// all, as parts of a composite are to whole pixels. The size is the one asked for or,
// as faces may want it, the nearest whole one.
func isBare(fitted *glyph.Outline, d *glyph.Design, ppem glyph.PPEM) bool {
	if d == nil || d.UPEM == 0 || len(fitted.Points) != len(d.Outline.Points) || len(fitted.Points) == 0 {
		return false
	}
	from, to := largestContour(&d.Outline)
	if from == to {
		return false
	}
	x, y := ppem.Nominal()
	for _, p := range []glyph.PPEM{ppem, {X: fixed.I(x), Y: fixed.I(y)}} {
		scaled := d.Scaled(p)
		if onlyMoved(scaled.Points[from:to], fitted.Points[from:to]) {
			return true
		}
	}
	return false
}

// largestContour is that of the largest box, from one point to before another; nothing
// where the font's contours have no points.
func largestContour(o *glyph.Outline) (from, to int) {
	start, largest := 0, int64(-1)
	for _, end := range o.Ends {
		ps := o.Points[start : end+1]
		if len(ps) == 0 {
			continue
		}
		lo, hi := ps[0], ps[0]
		for _, p := range ps {
			lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
		}
		if size := int64(hi.X-lo.X) * int64(hi.Y-lo.Y); size > largest {
			from, to, largest = start, end+1, size
		}
		start = end + 1
	}
	return from, to
}

// onlyMoved says that b is a, moved as a whole.
func onlyMoved(a, b []glyph.Point) bool {
	by := fixed.Point26_6{X: b[0].X - a[0].X, Y: b[0].Y - a[0].Y}
	for i := range a {
		if apart(b[i].X-a[i].X, by.X) || apart(b[i].Y-a[i].Y, by.Y) {
			return false
		}
	}
	return true
}

func apart(a, b fixed.Int26_6) bool { return max(a-b, b-a) > bareStray }
