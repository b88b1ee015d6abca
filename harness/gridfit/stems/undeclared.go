package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// uprightEdge is a straight edge of the drawing, in font units, upright or off by no
// more than shownWithin and a hundredth of its length.
type uprightEdge struct {
	at, bottom, top fixed.Int26_6
	left            bool   // the ink is at its right
	ends            [2]int // points of the drawing
	contour         box
}

// maxUprightEdges bounds those looked at in one glyph: letters have a dozen.
const maxUprightEdges = 128

// findUndeclared lists the upright stems that the drawing shows plainly and no hint
// declares, as when a maker gave hints to an ogonek and none to its letter: two long
// straight edges with ink between, as far apart as a standard width within a tenth. Such a
// stem gives way to declared ones wherever they are in force together.
func (f *Fitter) findUndeclared(hints []face.Hint) {
	a := &f.x
	a.undeclared = a.undeclared[:0]
	if !a.fitted || a.widths.standard == 0 && len(a.widths.snaps) == 0 {
		return
	}
	f.uprights = f.uprights[:0]
	f.contours(f.findUprights)
	for i := range f.uprights {
		lo := &f.uprights[i]
		if !lo.left {
			continue
		}
		hi := f.facing(lo)
		if hi == nil || !a.widths.usual(hi.at-lo.at) || len(a.undeclared) == maxStems {
			continue
		}
		s := stem{lo: lo.at, hi: hi.at, implied: true, zone: -1, home: lo.contour.union(hi.contour)}
		if !a.declares(hints, &s) {
			a.undeclared = append(a.undeclared, s)
			f.drawUpright(lo)
			f.drawUpright(hi)
		}
	}
}

// drawUpright puts both ends of an edge on one position, where a stem can hold them.
func (f *Fitter) drawUpright(e *uprightEdge) {
	for _, i := range e.ends {
		f.drawn.Points[i].X = e.at
	}
}

func (f *Fitter) findUprights(from, end int) {
	contour := f.drawn.Points[from:end]
	inkLeft, around := f.inkLeft(contour), boxOf(contour)
	for i := range contour {
		next := (i + 1) % len(contour)
		p, q := &contour[i], &contour[next]
		off, length := abs(p.X-q.X), abs(p.Y-q.Y)
		if p.Kind != glyph.OnCurve || q.Kind != glyph.OnCurve || length == 0 || off > shownWithin || 100*off > length ||
			len(f.uprights) == maxUprightEdges {
			continue
		}
		down := q.Y < p.Y
		f.uprights = append(f.uprights, uprightEdge{
			(p.X + q.X) / 2, min(p.Y, q.Y), max(p.Y, q.Y), down == inkLeft, [2]int{from + i, from + next}, around})
	}
}

// facing is the nearest edge that ends the ink at the right of one, beside it for at
// least twice their distance.
func (f *Fitter) facing(lo *uprightEdge) (hi *uprightEdge) {
	for i := range f.uprights {
		e := &f.uprights[i]
		if !e.left && e.at > lo.at && (hi == nil || e.at < hi.at) &&
			min(e.top, lo.top)-max(e.bottom, lo.bottom) >= 2*(e.at-lo.at) {
			hi = e
		}
	}
	return hi
}

// usual says that a width is a standard one, or within a tenth of one.
func (w *widths) usual(width fixed.Int26_6) bool {
	near := func(v fixed.Int26_6) bool { return v > 0 && 10*abs(width-v) <= v }
	for _, v := range w.snaps {
		if near(v) {
			return true
		}
	}
	return near(w.standard)
}

// declares says that a hint of a stem has an edge of s, or lies within or around it.
func (a *axis) declares(hints []face.Hint, s *stem) bool {
	near := func(v, w fixed.Int26_6) bool { return abs(v-w) <= shownWithin }
	return slices.ContainsFunc(hints, func(h face.Hint) bool {
		o := stemOf(&h)
		return h.Axis == a.axis && a.shown(&o) &&
			(near(s.lo, o.lo) || near(s.hi, o.hi) || o.lo <= s.lo && s.hi <= o.hi || s.lo <= o.lo && o.hi <= s.hi)
	})
}

// takeUndeclared adds the stems that no hint declares to those that one does.
func (a *axis) takeUndeclared() {
	for _, s := range a.undeclared {
		seen := slices.ContainsFunc(a.stems, func(o stem) bool { return o.lo == s.lo && o.hi == s.hi })
		if !seen && len(a.stems) < maxStems {
			a.stems = append(a.stems, s)
		}
	}
}
