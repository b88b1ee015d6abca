package harness

import (
	"slices"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// Sides of a set finding: the bitmaps drawn now, the approved ones, or both
// alike: a fault that somebody approved.
const (
	SideCandidate = "candidate"
	SideGolden    = "golden"
	SideBoth      = "both"
)

// setSides is what a strike came to on both sides.
type setSides struct {
	candidate, golden *diff.Census
}

// set judges the cells of a strike beside each other, drawn and approved.
func (c *comparison) set(approved *golden.Strike, drawn []render.Drawn) {
	var now, then []diff.Member
	for i := range drawn {
		if d := &drawn[i]; d.Err == nil {
			now = append(now, diff.Member{Cell: &d.Cell, Design: c.design(d.Cell.Ref)})
		}
	}
	for i := range approved.Cells {
		if g := &approved.Cells[i]; c.wanted(g.Ref) {
			then = append(then, diff.Member{Cell: g, Design: c.design(g.Ref)})
		}
	}
	size, ppem := c.id.Size, c.id.PPEM()
	var a, b []diff.SetFinding
	c.out.sides.candidate, a = c.judge.Set(size, ppem, now)
	c.out.sides.golden, b = c.judge.Set(size, ppem, then)
	c.out.addSet(a, b)
}

// addSet enters the findings of both sides, those that are the same once.
func (s *StrikeResult) addSet(candidate, golden []diff.SetFinding) {
	enter := func(f *diff.SetFinding, side string) {
		out := finding(&s.StrikeRecord, string(f.Glyph), f.Finding)
		out.Side = side
		s.Set = append(s.Set, out)
	}
	for i := range candidate {
		f := &candidate[i]
		j := slices.Index(golden, *f)
		if j < 0 {
			enter(f, SideCandidate)
			continue
		}
		golden = slices.Delete(slices.Clone(golden), j, j+1)
		enter(f, SideBoth)
	}
	for i := range golden {
		enter(&golden[i], SideGolden)
	}
}

// series holds each strike against the one before it of the same face and
// device. Strikes come in plan order, so one census of each waits at a time.
type series struct {
	distanceMM float64
	last       map[pair]setSides
}

func (s *series) add(id glyph.Strike, r *StrikeResult) {
	key := pair{id.Face, id.Device}
	was, ok := s.last[key]
	s.last[key] = r.sides
	if !ok {
		return
	}
	j := diff.NewJudge(diff.Viewing{DPI: id.DPI, DistanceMM: s.distanceMM})
	r.addSet(j.Series(was.candidate, r.sides.candidate), j.Series(was.golden, r.sides.golden))
}
