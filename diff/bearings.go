package diff

import (
	"math"

	"smokeproof/harness/glyph"
)

// bearings holds H, n and o against their outline: the letters that a designer
// spaces first, and a reader sees all others between.
func (j *Judge) bearings(m Member, ppem glyph.PPEM) (f SetFinding, ok bool) {
	if c := m.Cell.Code; c != 'H' && c != 'n' && c != 'o' || len(m.Design.Outline.Points) == 0 {
		return f, false
	}
	lo, hi := m.Design.Outline.Points[0].X, m.Design.Outline.Points[0].X
	for _, p := range m.Design.Outline.Points {
		lo, hi = min(lo, p.X), max(hi, p.X)
	}
	em, _ := ppem.Float()
	scale := em / float64(m.Design.UPEM)
	t := m.Cell.Bitmap.Tight()
	left := float64(t.Left) - float64(lo)/64*scale
	right := float64(m.Cell.Advance-t.Right()) - (float64(m.Design.Advance)-float64(hi)/64)*scale
	off, side, at := left, "left", t.Left
	if math.Abs(right) > math.Abs(left) {
		off, side, at = right, "right", t.Right()
	}
	if math.Abs(off) <= bearingPx {
		return f, false
	}
	return SetFinding{m.Cell.Key, Finding{
		Kind: Spacing, Severity: severityOf(Spacing, math.Abs(off)*j.eye.minutesX), MeasurePx: off,
		Score: j.eye.area * coherentGain * math.Abs(off),
		Place: Place{at, t.Bottom, at + 1, t.Top(), side + " bearing"},
		Text:  side + " bearing " + widerBy(off) + " than in the outline",
	}}, true
}
