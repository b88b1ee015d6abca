package diff

import "math"

// markMoved tells of a mark that its end reaches further, or less far: with all of the end
// that moved as a whole, or alone.
func (k *trial) markMoved(mark string, list, end []int, moved int) {
	by := Move{DY: moved}
	f := Finding{Kind: Moved, MeasurePx: float64(moved), Move: by, Place: Place{What: mark}, Text: movedText(mark, by)}
	f.Severity = severityOf(Moved, math.Abs(float64(moved))*k.j.eye.minutesY)
	if end == nil {
		f.Kind, f.Severity = Edge, severityOf(Edge, k.j.eye.spot(float64(len(list))))
		f.Text = mark + " reaches " + higherBy(float64(moved))
	}
	k.claim(f, append(list, end...))
}

// markAside names a mark, in one piece with its letter, that moved to the right or left.
func (k *trial) markAside(mark string, row int, top bool) {
	if mark == "" {
		return
	}
	for dx := 1; dx <= shiftReach; dx++ {
		for _, by := range [...]Move{{DX: dx}, {DX: -dx}} {
			if list := k.end(row, top, by, false); k.turned(list) {
				px, minutes := k.j.eye.moved(by)
				k.claim(Finding{
					Kind: Moved, Severity: severityOf(Moved, minutes), MeasurePx: px, Move: by,
					Place: Place{What: mark}, Text: movedText(mark, by),
				}, list)
				return
			}
		}
	}
}

// rightmost says that all ink of a row lies in the right third of the drawing, where a horn is.
func (p *plane) rightmost(row int) bool {
	first, from, to := -1, p.w, 0
	for i := range p.v {
		if x := i % p.w; p.ink(i) {
			from, to = min(from, x), max(to, x+1)
			if i/p.w == row && (first < 0 || x < first) {
				first = x
			}
		}
	}
	return 3*(first-from) >= 2*(to-from)
}
