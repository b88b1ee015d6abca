package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// maxBalls bounds the balls of one mark.
const maxBalls = 32

// ball is the round end of a mark, between two places along X in font units.
type ball struct {
	lo, hi fixed.Int26_6
	across fixed.Int26_6 // device pixels, whole
}

// takeBalls makes the balls of a mark that is made of nothing else as wide as they are
// high, in pixels too: full stops, colons, commas. Their stems are declared, or each is
// given one where the mark has none at all. Otherwise a ball comes out as thin as its
// tail, or lacks a corner.
func (f *Fitter) takeBalls(hints []face.Hint) {
	var balls [maxBalls]ball
	if len(f.measured) > maxBalls {
		return
	}
	for i, c := range f.measured {
		b, ok := f.ballOf(c, hints)
		if !ok {
			return
		}
		balls[i] = b
	}
	a := &f.x
	none := len(a.stems) == 0
	for i, c := range f.measured {
		b := balls[i]
		if none {
			a.stems = append(a.stems, stem{lo: b.lo, hi: b.hi, implied: true, across: b.across, zone: -1, home: c.box, reach: c.box})
		}
		for k := range a.stems {
			if s := &a.stems[k]; s.lo == b.lo && s.hi == b.hi {
				s.across = b.across
			}
		}
	}
}

// ballOf finds the ball of a contour: a declared stem with round edges that is as wide as
// a bar is high, within an eighth, and filled. Where the mark has no stem, it is what there
// is of the contour in the rows of the bar: all of it, and as wide, or filled, as wide
// within a quarter, as it leans, and hardly less wide than all. In pixels a ball is as wide
// as high where that is near enough.
func (f *Fitter) ballOf(c contour, hints []face.Hint) (b ball, ok bool) {
	for i := range hints {
		bar := stemOf(&hints[i])
		height, reach := bar.hi-bar.lo, c.box.x1-c.box.x0
		if hints[i].Axis != glyph.AxisY || bar.ghost != face.NoGhost || reach > 2*height {
			continue
		}
		in := f.within(c, &bar)
		if !in.some || in.y0 != bar.lo || in.y1 != bar.hi {
			continue
		}
		asHigh := func(width, parts fixed.Int26_6) bool { return parts*abs(width-height) <= height }
		width := in.x1 - in.x0
		b = ball{lo: in.x0, hi: in.x1}
		ok = len(f.x.stems) == 0 && (in == c.box && asHigh(width, 8) ||
			3*(reach-width) <= height && asHigh(width, 4) && f.filled(c, width, height))
		for k := range f.x.stems {
			s := &f.x.stems[k]
			near := c.box.x0-height/8 <= s.lo && s.hi <= c.box.x1+height/8
			if near && asHigh(s.hi-s.lo, 8) && f.x.round(s) && f.filled(c, s.hi-s.lo, height) {
				b, ok = ball{lo: s.lo, hi: s.hi}, true
			}
		}
		if ok {
			b.across = f.y.widths.fit(height)
			if drawn := f.x.scale.of(b.hi - b.lo); abs(b.across-drawn) >= snapOff {
				b.across = max(pixel, whole(drawn))
			}
			return b, true
		}
	}
	return ball{}, false
}

// round says that neither edge of a stem is straight. A straight one is seen to be as
// wide as others are.
func (a *axis) round(s *stem) bool {
	return a.edgesAt(s.lo).straight+a.edgesAt(s.hi).straight == 0
}

// filled says that a contour has about the area of a box: as a disc or a square has, and
// a comma with its tail, but not a stroke from corner to corner, nor a letter.
func (f *Fitter) filled(c contour, width, height fixed.Int26_6) bool {
	area, box := twiceArea(f.drawn.Points[c.from:c.end]), 2*(int64(width)*int64(height)>>12)
	area = max(area, -area)
	return 4*area >= 3*box && area <= 2*box
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
