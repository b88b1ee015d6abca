package stems

import (
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// takeBalls adds an upright stem for each ball of a mark that is made of nothing else and
// has no stem: the round end of a comma whose tail alone is declared, full stops that
// lean. Otherwise a ball comes out as thin as its tail, or lacks a corner.
func (f *Fitter) takeBalls(hints []face.Hint) {
	a := &f.x
	if len(a.stems) > 0 || len(f.measured) > maxStems {
		return
	}
	for _, c := range f.measured {
		s, ok := f.ballOf(c, hints)
		if !ok {
			a.stems = a.stems[:0]
			return
		}
		a.stems = append(a.stems, s)
	}
}

// ballOf finds what a contour has in the rows of a bar, if it is as wide as the bar is
// high, within an eighth, and hardly less wide than the contour. In pixels it is as wide
// as high too, where that is near enough.
func (f *Fitter) ballOf(c contour, hints []face.Hint) (s stem, ok bool) {
	for i := range hints {
		bar := stemOf(&hints[i])
		if hints[i].Axis != glyph.AxisY || bar.ghost != face.NoGhost {
			continue
		}
		b := f.within(c, &bar)
		width, height := b.x1-b.x0, bar.hi-bar.lo
		if !b.some || b.y0 != bar.lo || b.y1 != bar.hi || 8*abs(width-height) > height || 8*(c.box.x1-c.box.x0-width) > height {
			continue
		}
		across := f.y.widths.fit(height)
		if drawn := f.x.scale.of(width); abs(across-drawn) >= snapOff {
			across = max(pixel, whole(drawn))
		}
		return stem{lo: b.x0, hi: b.x1, implied: true, across: across, zone: -1, home: c.box, reach: c.box}, true
	}
	return stem{}, false
}

// within is the box of a contour's points in the rows of a bar.
func (f *Fitter) within(c contour, bar *stem) (b box) {
	for _, p := range f.drawn.Points[c.from:c.end] {
		if bar.lo <= p.Y && p.Y <= bar.hi {
			b = b.union(box{true, p.X, p.Y, p.X, p.Y})
		}
	}
	return b
}
