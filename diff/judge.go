package diff

import (
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Viewing is how the output will be looked at.
type Viewing struct {
	DPI        glyph.Resolution
	DistanceMM float64 // reading distance
}

// Pair is what is compared: the approved cell, the drawn one, and, where a
// face is at hand, what its maker drew.
type Pair struct {
	Golden, Candidate *glyph.Cell
	Design            *glyph.Design // nil without a face
	PPEM              glyph.PPEM    // used with Design
}

// Judge weighs differences for one strike. It is for one goroutine.
type Judge struct {
	eye   eye
	edges edgeTable
	desk  desk
}

// NewJudge returns a judge for output seen under the given conditions.
func NewJudge(v Viewing) *Judge { return &Judge{eye: newEye(v)} }

// Compare names what a reader would see of the difference. Cells that are
// equal give an empty report at the price of a word-by-word compare.
func (j *Judge) Compare(p Pair) Report {
	if same(p.Golden, p.Candidate) {
		return Report{}
	}
	if why := flood(&p.Golden.Bitmap, &p.Candidate.Bitmap); why != "" {
		return j.finish(j.replaced(p, why), p)
	}
	var r Report
	d := newDelta(&p.Golden.Bitmap, &p.Candidate.Bitmap, &j.desk)
	r.Lost, r.Gained = d.lost, d.gained
	switch {
	case d.golden.empty() && !d.candidate.empty():
		r.Findings = append(r.Findings, j.whole(Extra, p.Candidate))
	case d.candidate.empty() && !d.golden.empty():
		r.Findings = append(r.Findings, j.whole(Missing, p.Golden))
	default:
		k := newTrial(j, p, d)
		if r.Findings = k.findings(); k.replaced {
			return j.finish(r, p)
		}
	}
	if f, ok := j.spacing(p); ok {
		r.Findings = append(r.Findings, f)
	}
	return j.finish(r, p)
}

// Absent is the report for a glyph that stands on one side only: Missing
// (golden without candidate) or Extra (candidate without golden); Undrawn
// where the renderer gave nothing.
func (j *Judge) Absent(kind Kind, c *glyph.Cell) Report {
	r := Report{Findings: []Finding{j.whole(kind, c)}}
	if kind == Extra {
		r.Gained = c.Bitmap.Ink()
	} else {
		r.Lost = c.Bitmap.Ink()
	}
	r.Score = r.Findings[0].Score
	return r
}

// whole is the finding for a glyph of which one side has nothing.
func (j *Judge) whole(kind Kind, c *glyph.Cell) Finding {
	ink := c.Bitmap.Ink()
	f := Finding{
		Kind:      kind,
		Score:     j.eye.area * (coherentGain + partedGain) * float64(ink+1),
		MeasurePx: float64(ink),
		Place: Place{c.Bitmap.Left, c.Bitmap.Bottom, c.Bitmap.Right(), c.Bitmap.Top(),
			"whole glyph"},
		Text: absentText[kind],
	}
	if kind != Extra {
		f.MeasurePx = -f.MeasurePx
	}
	f.Severity = severityOf(kind, 0)
	return f
}

// spacing compares advances; bearings show as [Moved].
func (j *Judge) spacing(p Pair) (Finding, bool) {
	d := p.Candidate.Advance - p.Golden.Advance
	if d == 0 {
		return Finding{}, false
	}
	px := math.Abs(float64(d))
	return Finding{
		Kind: Spacing, Severity: severityOf(Spacing, px*j.eye.minutesX),
		Score: j.eye.area * coherentGain * px, MeasurePx: float64(d),
		Place: Place{min(p.Golden.Advance, p.Candidate.Advance), 0, max(p.Golden.Advance, p.Candidate.Advance), 1, "advance"},
		Text:  "advance " + widerBy(float64(d)),
	}, true
}

// finish tells measures in font units too, sums scores and orders findings.
func (j *Judge) finish(r Report, p Pair) Report {
	for i := range r.Findings {
		if p.Design != nil {
			r.Findings[i].inUnits(p.Design.UPEM, p.PPEM)
		}
	}
	out := NewReport(r.Findings)
	out.Lost, out.Gained = r.Lost, r.Gained
	return out
}

// same is the fast path: no allocation where both bitmaps are tight.
func same(g, c *glyph.Cell) bool {
	a, b := &g.Bitmap, &c.Bitmap
	if g.Advance != c.Advance {
		return false
	}
	if a.Depth == b.Depth && a.Left == b.Left && a.Bottom == b.Bottom && a.Width == b.Width && a.Height == b.Height {
		return slices.Equal(a.Words, b.Words)
	}
	return a.Depth == b.Depth && a.Equal(b) || a.Empty() && b.Empty()
}
