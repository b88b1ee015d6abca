package diff

import (
	"cmp"
	"math"
	"slices"
)

// carried names parts that hints drew far from their place, up or down: of the size of a region that
// nothing draws, no further from it than carriedEm, and where the outline has nothing. It gives
// what is left of both.
func (a *alone) carried(undrawn []region, surplus []part) ([]region, []part) {
	undrawn = slices.DeleteFunc(slices.Clone(undrawn), func(r region) bool {
		k := slices.IndexFunc(surplus, func(q part) bool { return a.sameSize(r, q.box) && a.above(r, q.box) && a.astray(&q) })
		if k < 0 {
			return false
		}
		a.strayedPart(r, &surplus[k])
		surplus = slices.Delete(slices.Clone(surplus), k, k+1)
		return true
	})
	return undrawn, surplus
}

// strayedPart enters the finding of a part, and takes back that its strokes have no ink.
func (a *alone) strayedPart(r region, q *part) {
	what, by := cmp.Or(r.name, "the glyph"), int(math.Round(a.rise(r, q.box)))
	px := float64(by)
	a.found = slices.DeleteFunc(a.found, func(f Finding) bool {
		return (f.Kind == StemLost || f.Kind == BarLost) && f.Place.Meets(a.place(r))
	})
	a.found = append(a.found, Finding{
		Kind: Moved, Severity: min(Major, severityOf(StemWeight, math.Abs(px)*a.j.eye.minutesY)), MeasurePx: px, Move: Move{DY: by},
		Score: a.j.eye.area * coherentGain * math.Abs(px) * float64(q.width()),
		Place: a.p.place(q.box, r.name), Text: what + " stands " + higherBy(px) + " than in the outline",
	})
}

// sameSize says that a box is as large as a region, as rounding draws it.
func (a *alone) sameSize(r region, b box) bool {
	emX, emY := a.ppem.Float()
	return math.Abs((r.x1-r.x0)*emX-float64(b.width())) <= strayPx && math.Abs((r.y1-r.y0)*emY-float64(b.height())) <= strayPx
}

// astray says that the outline does not run beside most of a part.
func (a *alone) astray(q *part) bool {
	n := 0
	for _, i := range q.pixels {
		if _, ok := a.d.beside(float64(i%a.p.w)+0.5, float64(i/a.p.w)+0.5); ok {
			n++
		}
	}
	return 2*n < len(q.pixels)
}

// above says that a box lies over or under the place of a region, within reach.
func (a *alone) above(r region, b box) bool {
	emX, _ := a.ppem.Float()
	aside := float64(a.p.x0) + float64(b.x0+b.x1)/2 - (r.x0+r.x1)/2*emX
	return math.Abs(aside) <= strayPx && math.Abs(math.Round(a.rise(r, b))) <= carriedEm*a.d.em
}

// rise is by how many pixels the middle of a box lies higher than that of a region.
func (a *alone) rise(r region, b box) float64 {
	_, emY := a.ppem.Float()
	return float64(a.p.y0) + float64(b.y0+b.y1)/2 - (r.y0+r.y1)/2*emY
}
