package harness

import (
	"cmp"
	"fmt"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// CompareOptions say how two bitmap fonts are compared without a plan.
type CompareOptions struct {
	Gate       diff.Severity
	DistanceMM float64
	Glyphs     Selection
	Face       face.Face // nil: judge by the bitmaps alone
}

// Compare holds one bitmap font against another of the same size and
// resolution: the first is the golden side.
func Compare(goldens, candidates *golden.Font, o CompareOptions) (*Results, error) {
	c, err := o.comparison(goldens, candidates)
	if err != nil {
		return nil, err
	}
	if none := o.Glyphs.Without(append(refsOf(goldens.Cells), refsOf(candidates.Cells)...)); !none.All() {
		return nil, fmt.Errorf("%w: neither font has %s; correct the selection of glyphs", ErrUsage, none)
	}
	var drawn []render.Drawn
	for _, cell := range candidates.Cells {
		if o.Glyphs.Has(cell.Ref) {
			drawn = append(drawn, render.Drawn{Cell: cell})
		}
	}
	strike, err := c.hold(&golden.Strike{ID: c.id, Cells: goldens.Cells}, drawn)
	if err != nil {
		return nil, err
	}
	c.oneSided()
	sum := NewSummary()
	sum.Add(strike, o.Gate)
	return &Results{
		Header:  Header{Version: ResultsVersion, Gate: o.Gate.String(), DistanceMM: o.DistanceMM, Against: cmp.Or(goldens.Name, "the first font")},
		Strikes: []StrikeRecord{strike.StrikeRecord}, Changes: strike.Changes, Summary: *sum,
	}, nil
}

// oneSided makes a finding of each glyph that one font alone has: where nothing is approved, a glyph
// that is more is no glyph to approve.
func (c *comparison) oneSided() {
	for i := range c.out.Changes {
		ch := &c.out.Changes[i]
		switch ch.Status {
		case StatusNew:
			rep := c.judge.Absent(diff.Extra, ch.cell)
			ch.Severity, ch.Score = rep.Worst().String(), rep.Score
			for _, f := range rep.Findings {
				f.Text = "only the new font has it"
				ch.Findings = append(ch.Findings, finding(&c.out.StrikeRecord, ch.Glyph, f))
			}
		case StatusMissing:
			for j := range ch.Findings {
				ch.Findings[j].Text = "only the old font has it"
			}
		}
	}
}

// CompareWeights is the importance map of one glyph of a comparison, and the
// golden cell that it lies over.
func CompareWeights(goldens, candidates *golden.Font, key glyph.Key, o CompareOptions) (*diff.WeightMap, *glyph.Cell, error) {
	c, err := o.comparison(goldens, candidates)
	if err != nil {
		return nil, nil, err
	}
	g, d := cellIn(goldens.Cells, key), cellIn(candidates.Cells, key)
	if g == nil || d == nil {
		return nil, nil, fmt.Errorf("glyph %q is not in both fonts; name one that is", key)
	}
	m := c.judge.Weights(diff.Pair{Golden: g, Candidate: d, Design: c.design(d.Ref), PPEM: c.id.PPEM()})
	return &m, g, nil
}

// cellIn is nil where there is no such glyph.
func cellIn(cells []glyph.Cell, key glyph.Key) *glyph.Cell {
	for i := range cells {
		if cells[i].Key == key {
			return &cells[i]
		}
	}
	return nil
}

func (o *CompareOptions) comparison(a, b *golden.Font) (*comparison, error) {
	if a.Size != b.Size || a.DPI != b.DPI {
		return nil, fmt.Errorf("%w: the fonts are two strikes, %s pt %s dpi and %s pt %s dpi; compare like with like",
			ErrUsage, a.Size, a.DPI, b.Size, b.DPI)
	}
	if err := checkDistance(o.DistanceMM); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUsage, err)
	}
	s := glyph.Strike{Face: a.Name, Device: "compare", Size: a.Size, DPI: a.DPI}
	if max(a.Depth, b.Depth) > 1 {
		s.Mode = glyph.Grey
	}
	c := newComparison(s, o.DistanceMM)
	c.wanted = o.Glyphs.Has
	if o.Face != nil {
		index := map[glyph.Key]int{}
		for _, r := range o.Face.Refs() {
			index[r.Key] = r.Index
		}
		c.design = func(r glyph.Ref) *glyph.Design {
			i, ok := index[r.Key]
			if !ok {
				return nil
			}
			return designOf(o.Face, i)
		}
	}
	return c, nil
}
