package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// implyEdges adds an edge for each extreme of the outline that lies in a zone
// and that no hint declares, so that it stands on the zone's row all the same.
// It gives way to every declared stem.
func (f *Fitter) implyEdges() {
	leftward := 1 // the way along X in which an outline goes over the top of its ink
	if f.twiceArea() > 0 {
		leftward = -1
	}
	f.contours(func(from, end int) {
		contour := f.drawn.Points[from:end]
		for i := range contour {
			p, before, after := contour[i], contour[(i+len(contour)-1)%len(contour)], contour[(i+1)%len(contour)]
			extreme := before.Y <= p.Y && after.Y <= p.Y || before.Y >= p.Y && after.Y >= p.Y
			way := int(after.X-before.X) * leftward
			switch {
			case p.Kind != glyph.OnCurve || !extreme:
			case way > 0:
				f.imply(from+i, face.GhostTop)
			case way < 0:
				f.imply(from+i, face.GhostBottom)
			}
		}
	})
}

// twiceArea is positive where outer contours run counter-clockwise, their ink
// at the left, as the Type 1 book has them (chapter 4).
func (f *Fitter) twiceArea() (sum int64) {
	f.contours(func(from, end int) {
		contour := f.drawn.Points[from:end]
		for i := range contour {
			p, q := contour[i], contour[(i+1)%len(contour)]
			sum += (int64(p.X)*int64(q.Y) - int64(q.X)*int64(p.Y)) >> 12
		}
	})
	return sum
}

func (f *Fitter) imply(point int, g face.Ghost) {
	y := f.drawn.Points[point].Y
	zone := catch(f.y.zones, y, g == face.GhostTop)
	if zone < 0 {
		return
	}
	f.aligned = append(f.aligned, alignedPoint{point, f.y.zones[zone].fit(y)})
	if len(f.y.stems) < maxStems && !f.y.hasEdge(y, g) {
		f.y.stems = append(f.y.stems, stem{lo: y, hi: y, ghost: g, implied: true, zone: zone})
	}
}

// alignedPoint is an extreme of the outline in a zone, and where the zone puts
// it: there it stands whatever stem in force contradicts it, as the round half
// of an œ does its flat one.
type alignedPoint struct {
	point int
	y     fixed.Int26_6 // device pixels, whole
}

// hasEdge says that a stem has a bottom or a top edge, as g is the one or the
// other, at a coordinate.
func (a *axis) hasEdge(y fixed.Int26_6, g face.Ghost) bool {
	for i := range a.stems {
		s := &a.stems[i]
		if g == face.GhostTop && s.ghost != face.GhostBottom && s.hi == y || g == face.GhostBottom && s.ghost != face.GhostTop && s.lo == y {
			return true
		}
	}
	return false
}
