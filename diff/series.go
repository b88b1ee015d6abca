package diff

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Series holds two strikes of one face on one device against each other, in
// either order: as size grows, no width of strokes, no row above the baseline
// and no advance may fall. What falls is a fault of the larger strike.
func (j *Judge) Series(a, b *Census) []SetFinding {
	if a.Size > b.Size {
		a, b = b, a
	}
	var found []SetFinding
	than := fmt.Sprintf(" than at %s pt", a.Size)
	for _, c := range b.strokes {
		i := slices.IndexFunc(a.strokes, func(s strokeClass) bool { return s.bar == c.bar && s.company == c.company && s.width == c.width })
		if i < 0 || len(c.members) < leastOfKind || len(a.strokes[i].members) < leastOfKind || c.thickness >= a.strokes[i].thickness {
			continue
		}
		px := float64(c.thickness - a.strokes[i].thickness)
		kind := choose(c.bar, BarWeight, StemWeight)
		found = append(found, j.fallen(kind, "", px, choose(c.bar, "bars", "stems"),
			fmt.Sprintf("%ss of %.0f units are %s thinner%s", choose(c.bar, "bar", "stem"), c.width, pixels(px), than)))
	}
	for _, r := range b.rows {
		i := slices.IndexFunc(a.rows, func(s alignment) bool {
			return s.company == r.company && s.zone == r.zone && s.top == r.top && s.round == r.round
		})
		if i < 0 || !r.top || r.row >= a.rows[i].row {
			continue
		}
		px := float64(r.row - a.rows[i].row)
		found = append(found, j.fallen(Height, "", px, r.zone,
			r.zone+" "+choose(r.round, "of rounds ", "")+"is "+pixels(px)+" lower"+than))
	}
	for _, key := range slices.Sorted(maps.Keys(b.advances)) {
		was, ok := a.advances[key]
		if !ok || b.advances[key] >= was || b.linear[key] != a.linear[key] {
			continue
		}
		px := float64(b.advances[key] - was)
		found = append(found, j.fallen(Spacing, key, px, "advance", "advance "+pixels(px)+" narrower"+than))
	}
	return found
}

func (j *Judge) fallen(kind Kind, key glyph.Key, px float64, what, text string) SetFinding {
	minutes := choose(vertical(kind), j.eye.minutesY, j.eye.minutesX)
	return SetFinding{key, Finding{
		Kind: kind, Severity: severityOf(kind, math.Abs(px)*minutes), MeasurePx: px,
		Score: j.eye.area * coherentGain * math.Abs(px), Place: Place{What: what}, Text: text,
	}}
}
