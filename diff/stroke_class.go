package diff

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

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
	white   float64 // px that the outline keeps to a stroke whose ink this one has too; 0 where there is none
	second  bool    // of those two
}

// strokesOf places the strokes of an outline in its drawing, and names its stems
// from left to right.
func (p *plane) strokesOf(key glyph.Key, company string, d *outline, body *part) []classMember {
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
		l, ok := p.limbOf(&s)
		if thick := float64(l.thickness()); thick > s.hi-s.lo+2*strayPx && thick > s.to-s.from {
			continue // that is the stroke which this one ends in
		}
		if !ok || float64(l.length()) < choose(s.bar, barShare*float64(p.w-2*margin), stemShare*float64(p.h-2*margin)) {
			continue
		}
		name := nameBar(l, body.y0, body.y1)
		if !s.bar {
			name = nameStem(i, len(stems))
		}
		m := classMember{key: key, company: company, limb: l, name: name, x: p.x0, y: p.y0, fu: s.width}
		m.white, m.second = l.shared(&s, choose(s.bar, bars, stems))
		list = append(list, m)
	}
	return list
}

// shared is the white that the outline keeps between a stroke and another whose ink the limb has too,
// and whether the other comes first; 0 where the limb is that of one stroke.
func (l *limb) shared(s *stroke, strokes []stroke) (white float64, second bool) {
	lo, hi, from, to := float64(l.x0), float64(l.x1), float64(l.y0), float64(l.y1)
	if s.bar {
		lo, hi, from, to = from, to, lo, hi
	}
	for _, o := range strokes {
		middle := (o.lo + o.hi) / 2
		beside := min(o.to, to) - max(o.from, from)
		if gap := max(o.lo-s.hi, s.lo-o.hi); gap > 0 && middle > lo && middle < hi && beside >= minLimb {
			return gap, o.lo < s.lo
		}
	}
	return 0, false
}

// classify groups strokes by their width in the outline.
func (c *Census) classify(list []classMember) {
	slices.SortStableFunc(list, func(a, b classMember) int { return cmp.Compare(a.fu, b.fu) })
	for _, m := range list {
		i := slices.IndexFunc(c.strokes, func(s strokeClass) bool {
			return s.bar == m.limb.bar && s.company == m.company && m.fu-s.width <= c.reach()
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

// reach is by how much the widths of one class may differ, font units.
func (c *Census) reach() float64 { return classEm * float64(c.upem) }

// likeNext says that a stroke on the border of two classes is as thick as most of
// the other: it may go with either.
func (c *Census) likeNext(own *strokeClass, m *classMember) bool {
	return slices.ContainsFunc(c.strokes, func(s strokeClass) bool {
		return s.bar == own.bar && s.company == own.company && s.thickness == m.limb.thickness() && agreed(s.most, len(s.members)) &&
			slices.ContainsFunc(s.members, func(o classMember) bool { return math.Abs(o.fu-m.fu) <= c.reach() })
	})
}

// unequal names the strokes that are not as thick as most of their width, or of a
// width within reach.
func (j *Judge) unequal(census *Census, c *strokeClass) []SetFinding {
	if !agreed(c.most, len(c.members)) {
		return nil
	}
	kind, across := choose(c.bar, BarWeight, StemUneven), choose(c.bar, j.eye.minutesY, j.eye.minutesX)
	var found []SetFinding
	for _, m := range c.members {
		px := float64(m.limb.thickness() - c.thickness)
		if px == 0 || census.likeNext(c, &m) {
			continue
		}
		if px > 0 && m.white > 0 {
			if !m.second {
				found = append(found, SetFinding{m.key, j.oneInk(&m, across)})
			}
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

// oneInk is the finding of two strokes that are one in the drawing.
func (j *Judge) oneInk(m *classMember, across float64) Finding {
	return Finding{
		Kind: Bridge, Severity: severityOf(Bridge, min(1, m.white)*across), MeasurePx: hundredths(m.white),
		Score: j.eye.area * (coherentGain + partedGain) * min(1, m.white) * float64(m.limb.length()),
		Place: Place{X0: m.x + m.limb.x0, Y0: m.y + m.limb.y0, X1: m.x + m.limb.x1, Y1: m.y + m.limb.y1},
		Text:  fmt.Sprintf("two %s run together; the outline holds them %.1f px apart", choose(m.limb.bar, "bars", "stems"), m.white),
	}
}
