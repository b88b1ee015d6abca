package diff

import (
	"fmt"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// alignment is the glyphs of one company that end at one row: flat ends and
// rounds apart.
type alignment struct {
	company string
	zone    string
	top     bool
	round   bool
	members []rowMember
	row     int // device row of most members
	most    int
}

type rowMember struct {
	key    glyph.Key
	bitmap *glyph.Bitmap
	row    int
}

// align enters a glyph at the alignment rows where its outline ends, unless an
// accent is what reaches there.
func (c *Census) align(m Member, company string, d *outline, ppem glyph.PPEM, p *plane, body *part) {
	bottom, high := p.rows()
	_, em := ppem.Float()
	near := rowEm * em
	for _, top := range []bool{true, false} {
		if top && body.y1 < high || !top && body.y0 > bottom || endsOtherwise(m.Cell.Code, top) {
			continue
		}
		for _, z := range m.Design.Zones {
			if z.Top != top || foreign(z, m.Cell.Code) {
				continue
			}
			flatRow, roundRow := p.row(z.Flat, m.Design.UPEM, ppem), p.row(z.Over, m.Design.UPEM, ppem)
			at, off := choose(top, d.top, d.bottom), choose(top, d.topFlat, d.bottomFlat)
			flat := math.Abs(at-flatRow) <= near && off <= near
			round := math.Abs(at-roundRow) <= near && off > near && !d.tipped(p, top)
			if flat || round {
				c.enter(z, company, round, rowMember{m.Cell.Key, &m.Cell.Bitmap, 0})
				break
			}
		}
	}
}

// tipped says that an outline ends in a tip and not in a round, as a slash does: how much of it
// is drawn hangs on where it falls.
func (d *outline) tipped(p *plane, top bool) bool {
	c := d.crest(0, float64(p.w), top, nothing)
	return c.kind == Diagonal || c.fall > gentleFall
}

// row is where a height in font units stands in the plane.
func (p *plane) row(v glyph.FUnit, upem int, ppem glyph.PPEM) float64 {
	_, em := ppem.Float()
	return float64(v)*em/float64(upem) - float64(p.y0)
}

func (c *Census) enter(z glyph.Zone, company string, round bool, m rowMember) {
	name := z.Name
	if name == "" {
		name = fmt.Sprintf("row at %d units", z.Flat)
	}
	t := m.bitmap.Tight()
	m.row = choose(z.Top, t.Top(), t.Bottom)
	i := slices.IndexFunc(c.rows, func(a alignment) bool {
		return a.company == company && a.zone == name && a.top == z.Top && a.round == round
	})
	if i < 0 {
		i = len(c.rows)
		c.rows = append(c.rows, alignment{company: company, zone: name, top: z.Top, round: round})
	}
	a := &c.rows[i]
	a.members = append(a.members, m)
	a.row, a.most = commonest(a.members, func(m rowMember) int { return m.row })
}

// unaligned names the glyphs that end a row beside most of their kind.
func (j *Judge) unaligned(a *alignment) []SetFinding {
	if !agreed(a.most, len(a.members)) {
		return nil
	}
	kind := choose(a.round, Overshoot, Height)
	var found []SetFinding
	for _, m := range a.members {
		px := float64(m.row - a.row)
		if px == 0 {
			continue
		}
		t := m.bitmap.Tight()
		found = append(found, SetFinding{m.key, Finding{
			Kind: kind, Severity: severityOf(kind, math.Abs(px)*j.eye.minutesY), MeasurePx: px, Move: Move{DY: m.row - a.row},
			Score: j.eye.area * coherentGain * math.Abs(px),
			Place: Place{t.Left, min(m.row, a.row), t.Right(), max(m.row, a.row), a.zone},
			Text: fmt.Sprintf("%s %s than in %d of the %d glyphs that %s there", a.zone, higherBy(px),
				a.most, len(a.members), choose(a.round, "are round", "end flat")),
		}})
	}
	return found
}
