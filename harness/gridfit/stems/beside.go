package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// beside says that two stems have a part of the drawing between them: of upright ones
// that one is not wholly above or under the other, as an accent is above its letter; of
// bars that the lower one's top faces the upper one's bottom. The two rings of a per cent
// sign do not, nor do the halves of a tilde.
func (a *axis) beside(lower, upper *stem) bool {
	if a.axis == glyph.AxisX {
		return lower.reach.empty() || upper.reach.empty() || lower.reach.y0 <= upper.reach.y1 && upper.reach.y0 <= lower.reach.y1
	}
	a.tops = a.edgesOf(a.tops[:0], lower.hi, face.GhostTop, lower.lo)
	a.bottoms = a.edgesOf(a.bottoms[:0], upper.lo, face.GhostBottom, upper.hi)
	for _, t := range a.tops {
		for _, b := range a.bottoms {
			if a.faces(t, b) {
				return true
			}
		}
	}
	return len(a.tops) == 0 || len(a.bottoms) == 0
}

// edgesOf adds the extremes of the drawing that an edge of a bar stands for, or else those
// of its other edge: the tips of a breve have no bottom.
func (a *axis) edgesOf(all []extremeAt, y fixed.Int26_6, of face.Ghost, other fixed.Int26_6) []extremeAt {
	for _, e := range a.extremes {
		if e.of == of && abs(e.y-y) <= shownWithin {
			all = append(all, e)
		}
	}
	if len(all) > 0 {
		return all
	}
	for _, e := range a.extremes {
		if e.of != of && abs(e.y-other) <= shownWithin {
			all = append(all, e)
		}
	}
	return all
}

// faces says that a top is under a bottom, or within half a pixel of it, going by how far
// each of them is level; or under any part of a contour, where that is another one.
func (a *axis) faces(t, b extremeAt) bool {
	if t.contour == b.contour {
		return a.scale.of(max(t.x0, b.x0)-min(t.x1, b.x1)) <= pixel/2
	}
	return t.box.x0 <= b.box.x1 && b.box.x0 <= t.box.x1
}
