package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// findUndeclared lists the upright stems that the drawing shows plainly and no hint
// declares, as when a maker gave hints to an ogonek and none to its letter: two long
// straight edges with ink between, as far apart as a standard width within a tenth. Such a
// stem gives way to declared ones wherever they are in force together.
func (f *Fitter) findUndeclared(hints []face.Hint) {
	a := &f.x
	a.undeclared = a.undeclared[:0]
	if a.widths.standard == 0 && len(a.widths.snaps) == 0 {
		return
	}
	for i := range f.flanks {
		lo := &f.flanks[i]
		if !lo.left {
			continue
		}
		hi := f.facing(lo)
		if hi == nil || !a.widths.usual(f.at(hi)-f.at(lo)) || len(a.undeclared) == maxStems {
			continue
		}
		home := boxOf(f.drawn.Points[lo.from:lo.end]).union(boxOf(f.drawn.Points[hi.from:hi.end]))
		s := stem{lo: f.at(lo), hi: f.at(hi), implied: true, zone: -1, home: home, reach: home}
		if !a.declares(hints, &s) {
			a.undeclared = append(a.undeclared, s)
			f.drawUpright(lo)
			f.drawUpright(hi)
		}
	}
}

// facing is the nearest flank that ends the ink at the right of one, beside it for at
// least twice their distance.
func (f *Fitter) facing(lo *flank) (hi *flank) {
	for i := range f.flanks {
		s := &f.flanks[i]
		width := f.at(s) - f.at(lo)
		if !s.left && width > 0 && (hi == nil || f.at(s) < f.at(hi)) && f.beside(lo, s) >= 2*width {
			hi = s
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

// declares says that a hint lies over a stem: it may be misstated, but it is the maker's word.
func (a *axis) declares(hints []face.Hint, s *stem) bool {
	return slices.ContainsFunc(hints, func(h face.Hint) bool {
		o := stemOf(&h)
		return h.Axis == a.axis && o.lo < s.hi && s.lo < o.hi
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
