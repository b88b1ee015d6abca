package diff

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Member is one glyph of a strike and what its maker drew.
type Member struct {
	Cell   *glyph.Cell
	Design *glyph.Design
}

// SetFinding is a fault that shows only beside the other glyphs of a strike,
// or beside the next size. Glyph is empty where the whole strike has it.
type SetFinding struct {
	Glyph glyph.Key
	Finding
}

// Census is what the glyphs of a strike have in common. It is small: one entry
// for each class of strokes, alignment row and glyph.
type Census struct {
	Size     glyph.Points
	strokes  []strokeClass
	rows     []alignment
	advances map[glyph.Key]int
	linear   map[glyph.Key]float64 // advances in the outline, ems
}

// strokeClass is the strokes of one width in the outline: those of one
// StemSnap or control value, where the face keeps any, in one company of glyphs.
type strokeClass struct {
	bar       bool
	company   string
	width     float64 // font units, the narrowest
	members   []classMember
	thickness int // device pixels: of most members
	most      int // how many have it
}

type classMember struct {
	key     glyph.Key
	company string
	limb    limb
	name    string
	x, y    int // of its plane
	fu      float64
}

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

// Set judges the cells of one strike beside each other: strokes of one width,
// ends on one alignment row, and the bearings of H, n and o.
func (j *Judge) Set(size glyph.Points, ppem glyph.PPEM, members []Member) (*Census, []SetFinding) {
	c := &Census{Size: size, advances: map[glyph.Key]int{}, linear: map[glyph.Key]float64{}}
	var found []SetFinding
	var strokes []classMember
	for _, m := range members {
		if m.Design == nil || m.Design.UPEM == 0 || m.Cell.Index == 0 && m.Cell.Code == glyph.NoCode {
			continue // .notdef is no letter
		}
		c.advances[m.Cell.Key] = m.Cell.Advance
		c.linear[m.Cell.Key] = float64(m.Design.Advance) / float64(m.Design.UPEM)
		if m.Cell.Bitmap.Empty() {
			continue
		}
		p := j.planeOf(&m.Cell.Bitmap)
		d := readOutline(m.Design, ppem, &p, &j.desk)
		company := companyOf(m.Cell.Code)
		if all := p.parts(&j.desk, 0); all.body() != nil {
			strokes = append(strokes, p.census(m.Cell.Key, company, d, all.body())...)
			if aligned(m.Cell.Code) {
				c.align(m, company, d, ppem, &p, all.body())
			}
		}
		if f, ok := j.bearings(m, ppem); ok {
			found = append(found, f)
		}
	}
	upem := 0
	for _, m := range members {
		if m.Design != nil {
			upem = max(upem, m.Design.UPEM)
		}
	}
	c.classify(strokes, upem)
	for i := range c.strokes {
		found = append(found, j.unequal(c, &c.strokes[i], classEm*float64(upem))...)
	}
	for i := range c.rows {
		found = append(found, j.unaligned(&c.rows[i])...)
	}
	for i := range found {
		found[i].inUnits(upem, ppem)
	}
	slices.SortStableFunc(found, func(a, b SetFinding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.Score, a.Score), cmp.Compare(a.Glyph, b.Glyph))
	})
	return c, found
}

// census places the strokes of an outline in its drawing, and names its stems
// from left to right.
func (p *plane) census(key glyph.Key, company string, d *outline, body *part) []classMember {
	var stems, bars []stroke
	for _, s := range d.strokes {
		switch {
		case math.IsInf(s.to, 0): // a hint does not say how far along it goes
		case s.bar:
			bars = append(bars, s)
		default:
			stems = append(stems, s)
		}
	}
	slices.SortStableFunc(stems, func(a, b stroke) int { return cmp.Compare(a.lo, b.lo) })
	var list []classMember
	for i, s := range append(stems, bars...) {
		l, ok := p.place(&s)
		if !ok || float64(l.length()) < choose(s.bar, barShare*float64(p.w-2*margin), stemShare*float64(p.h-2*margin)) {
			continue
		}
		name := nameBar(l, body.y0, body.y1)
		if !s.bar {
			name = nameStem(i, len(stems))
		}
		list = append(list, classMember{key, company, l, name, p.x0, p.y0, s.width})
	}
	return list
}

// classify groups strokes by their width in the outline.
func (c *Census) classify(list []classMember, upem int) {
	slices.SortStableFunc(list, func(a, b classMember) int { return cmp.Compare(a.fu, b.fu) })
	for _, m := range list {
		i := slices.IndexFunc(c.strokes, func(s strokeClass) bool {
			return s.bar == m.limb.bar && s.company == m.company && m.fu-s.width <= classEm*float64(upem)
		})
		if i < 0 {
			i = len(c.strokes)
			c.strokes = append(c.strokes, strokeClass{bar: m.limb.bar, company: m.company, width: m.fu})
		}
		c.strokes[i].members = append(c.strokes[i].members, m)
	}
	for i := range c.strokes {
		s := &c.strokes[i]
		s.thickness, s.most = commonest(s.members, func(m classMember) int { return m.limb.thickness() })
	}
}

// commonest is the value that most members have, the smaller of equals.
func commonest[M any](list []M, value func(M) int) (v, n int) {
	count := map[int]int{}
	for _, m := range list {
		count[value(m)]++
	}
	for w, k := range count {
		if k > n || k == n && w < v {
			v, n = w, k
		}
	}
	return v, n
}

// agreed says that so many members agree that the others stand out.
func agreed(most, of int) bool { return of >= leastOfKind && float64(most) >= clearShare*float64(of) }

// likeNext says that a stroke on the border of two classes is as thick as most of
// the other: it may go with either.
func (c *Census) likeNext(own *strokeClass, m *classMember, reach float64) bool {
	return slices.ContainsFunc(c.strokes, func(s strokeClass) bool {
		return s.bar == own.bar && s.company == own.company && s.thickness == m.limb.thickness() && agreed(s.most, len(s.members)) &&
			slices.ContainsFunc(s.members, func(o classMember) bool { return math.Abs(o.fu-m.fu) <= reach })
	})
}

// unequal names the strokes that are not as thick as most of their width, or of a
// width within reach.
func (j *Judge) unequal(census *Census, c *strokeClass, reach float64) []SetFinding {
	if !agreed(c.most, len(c.members)) {
		return nil
	}
	kind, across := choose(c.bar, BarWeight, StemUneven), choose(c.bar, j.eye.minutesY, j.eye.minutesX)
	var found []SetFinding
	for _, m := range c.members {
		px := float64(m.limb.thickness() - c.thickness)
		if px == 0 || census.likeNext(c, &m, reach) {
			continue
		}
		found = append(found, SetFinding{m.key, Finding{
			Kind: kind, Severity: severityOf(kind, math.Abs(px)*across), MeasurePx: px,
			Score: j.eye.area * coherentGain * math.Abs(px) * float64(m.limb.length()),
			Place: Place{m.x + m.limb.x0, m.y + m.limb.y0, m.x + m.limb.x1, m.y + m.limb.y1, m.name},
			Text: fmt.Sprintf("%s %s than most of its width: %s, where %d of %d %ss of %.0f units are %s", m.name, thickerBy(px),
				pixels(float64(m.limb.thickness())), c.most, len(c.members), choose(c.bar, "bar", "stem"), m.fu, pixels(float64(c.thickness))),
		}})
	}
	return found
}

// align enters a glyph at the alignment rows where its outline ends, unless an
// accent is what reaches there.
func (c *Census) align(m Member, company string, d *outline, ppem glyph.PPEM, p *plane, body *part) {
	bottom, high := p.rows()
	for _, top := range []bool{true, false} {
		if top && body.y1 < high || !top && body.y0 > bottom {
			continue
		}
		for _, z := range m.Design.Zones {
			if z.Top != top {
				continue
			}
			row := func(v glyph.FUnit) float64 {
				return float64(v)*float64(ppem.Y)/64/float64(m.Design.UPEM) - float64(p.y0)
			}
			near := rowEm * float64(ppem.Y) / 64
			at, off := choose(top, d.top, d.bottom), choose(top, d.topFlat, d.bottomFlat)
			flat := math.Abs(at-row(z.Flat)) <= near && off <= near
			round := math.Abs(at-row(z.Over)) <= near && off > near
			if flat || round {
				c.enter(z, company, round, rowMember{m.Cell.Key, &m.Cell.Bitmap, 0})
				break
			}
		}
	}
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
			Kind: kind, Severity: severityOf(kind, math.Abs(px)*j.eye.minutesY), MeasurePx: px,
			Score: j.eye.area * coherentGain * math.Abs(px),
			Place: Place{t.Left, min(m.row, a.row), t.Right(), max(m.row, a.row), a.zone},
			Text: fmt.Sprintf("%s %s than in %d of the %d glyphs that %s there", a.zone, higherBy(px),
				a.most, len(a.members), choose(a.round, "are round", "end flat")),
		}})
	}
	return found
}

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
	scale := float64(ppem.X) / 64 / float64(m.Design.UPEM)
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
