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
func (a *axis) beside(lower, upper *stem) bool { return a.between(lower, upper) > 0 }

// between is how much white two stems must keep: a pixel; half as much asks less for it.
func (a *axis) between(lower, upper *stem) (white fixed.Int26_6) {
	if a.axis == glyph.AxisX {
		if lower.reach.empty() || upper.reach.empty() || lower.reach.y0 <= upper.reach.y1 && upper.reach.y0 <= lower.reach.y1 {
			return pixel
		}
		return 0
	}
	if len(lower.tops) == 0 || len(upper.bottoms) == 0 {
		return pixel
	}
	for _, t := range lower.tops {
		for _, b := range upper.bottoms {
			if white = max(white, a.faces(t, b)); white == pixel {
				return pixel
			}
		}
	}
	return white
}

// noteEdges notes which extremes of the drawing the edges of each bar stand for, once all
// bars are known.
func (a *axis) noteEdges() {
	a.edges = a.edges[:0]
	for i := range a.stems {
		s := &a.stems[i]
		s.tops = a.edgesOf(s.hi, face.GhostTop, s.lo)
		s.bottoms = a.edgesOf(s.lo, face.GhostBottom, s.hi)
	}
}

// edgesOf lists the extremes that an edge of a bar stands for, or else those of its other
// edge: the tips of a breve have no bottom.
func (a *axis) edgesOf(y fixed.Int26_6, of face.Ghost, other fixed.Int26_6) []*extremeAt {
	from := len(a.edges)
	for i := range a.extremes {
		if e := &a.extremes[i]; e.of == of && abs(e.y-y) <= shownWithin {
			a.edges = append(a.edges, e)
		}
	}
	if len(a.edges) == from {
		for i := range a.extremes {
			if e := &a.extremes[i]; e.of != of && abs(e.y-other) <= shownWithin {
				a.edges = append(a.edges, e)
			}
		}
	}
	return a.edges[from:]
}

// faces is how much white a top has to a bottom over it: a pixel, going by how far each of
// them is level, or under any part of a contour, where that is of another shape; half of one
// where they are half a pixel aside at most. A tip is no bottom: ink leads up to it.
func (a *axis) faces(t, b *extremeAt) fixed.Int26_6 {
	aside := max(t.x0, b.x0) - min(t.x1, b.x1)
	switch tip := t.of == b.of && b.x0 == b.x1; {
	case !t.shares(&b.contour):
		if t.box.x0 <= b.box.x1 && b.box.x0 <= t.box.x1 {
			return pixel
		}
	case tip:
	case aside <= 0:
		return pixel
	case a.scale.of(aside) <= pixel/2:
		return pixel / 2
	}
	return 0
}
