package diff

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// Series holds two strikes of one face on one device against each other, in
// either order: as size grows, no width of strokes, no row above the baseline
// and no advance may fall. What falls is a fault of the larger strike.
func (j *Judge) Series(a, b *Census) []SetFinding {
	if a.Size > b.Size {
		a, b = b, a
	}
	var falls []*fall
	for _, c := range b.strokes {
		i := slices.IndexFunc(a.strokes, func(s strokeClass) bool { return s.bar == c.bar && s.company == c.company && s.width == c.width })
		if i < 0 || !agreed(c.most, len(c.members)) || !agreed(a.strokes[i].most, len(a.strokes[i].members)) || c.thickness >= a.strokes[i].thickness {
			continue
		}
		px := float64(c.thickness - a.strokes[i].thickness)
		f := fall{kind: choose(c.bar, BarWeight, StemWeight), px: px, what: choose(c.bar, "bars", "stems"), by: pixels(px) + " thinner"}
		f.of = fmt.Sprintf("%s of %.0f units", f.what, c.width)
		falls = f.among(falls, c.company)
	}
	for _, r := range b.rows {
		i := slices.IndexFunc(a.rows, func(s alignment) bool {
			return s.company == r.company && s.zone == r.zone && s.top == r.top && s.round == r.round
		})
		if i < 0 || !r.top || r.row >= a.rows[i].row {
			continue
		}
		px := float64(r.row - a.rows[i].row)
		f := fall{kind: Height, px: px, what: r.zone, of: r.zone + choose(r.round, " of rounds", ""), by: pixels(px) + " lower"}
		falls = f.among(falls, r.company)
	}
	var found []SetFinding
	than := fmt.Sprintf(" than at %s pt", a.Size)
	for _, f := range falls {
		found = append(found, j.fallen(f.kind, "", f.px, f.what, f.text()+than))
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

// fall is what went down in some companies of glyphs alike.
type fall struct {
	kind         Kind
	px           float64
	what, of, by string
	companies    []string
}

// among adds a fall of one company to those told, or to the same one of others.
func (f fall) among(told []*fall, company string) []*fall {
	i := slices.IndexFunc(told, func(o *fall) bool { return o.kind == f.kind && o.of == f.of && o.by == f.by })
	if i < 0 {
		i, told = len(told), append(told, &f)
	}
	told[i].companies = append(told[i].companies, company)
	return told
}

// text is "stems of 88 units (Latin, Greek) are 1 px thinner".
func (f *fall) text() string {
	slices.Sort(f.companies)
	return fmt.Sprintf("%s (%s) %s %s", f.of, strings.Join(f.companies, ", "), choose(f.kind == Height, "is", "are"), f.by)
}

func (j *Judge) fallen(kind Kind, key glyph.Key, px float64, what, text string) SetFinding {
	minutes := choose(vertical(kind), j.eye.minutesY, j.eye.minutesX)
	by := Move{}
	if kind == Height {
		by.DY = int(px)
	}
	return SetFinding{key, Finding{
		Kind: kind, Severity: severityOf(kind, math.Abs(px)*minutes), MeasurePx: px, Move: by,
		Score: j.eye.area * coherentGain * math.Abs(px), Place: Place{What: what}, Text: text,
	}}
}
