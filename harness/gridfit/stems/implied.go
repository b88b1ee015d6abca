package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// implyEdges adds an edge for each extreme of the outline that lies in a zone
// and that no hint declares, so that it stands on the zone's row all the same.
// It gives way to every declared stem.
func (a *axis) implyEdges(o *glyph.Outline) {
	first := 0
	for _, end := range o.Ends {
		if end < first || end >= len(o.Points) {
			break
		}
		contour := o.Points[first : end+1]
		for i := range contour {
			y := contour[i].Y
			before, after := contour[(i+len(contour)-1)%len(contour)].Y, contour[(i+1)%len(contour)].Y
			if contour[i].Kind != glyph.OnCurve {
				continue
			}
			if before <= y && after <= y {
				a.imply(y, face.GhostTop)
			}
			if before >= y && after >= y {
				a.imply(y, face.GhostBottom)
			}
		}
		first = end + 1
	}
}

func (a *axis) imply(y fixed.Int26_6, g face.Ghost) {
	zone := catch(a.zones, y, g == face.GhostTop)
	if zone < 0 || len(a.stems) == maxStems || a.hasEdge(y, g) {
		return
	}
	a.stems = append(a.stems, stem{lo: y, hi: y, ghost: g, implied: true, zone: zone})
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
