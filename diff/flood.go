package diff

import (
	"fmt"

	"smokeproof/harness/glyph"
)

// To go through a flood of pixels one by one costs seconds and memory, and tells a
// reader nothing that its size does not. A box that is at least timesLarger than
// the other side's, and has at least leastFlood pixels, is another drawing: a broken
// outline, or a face scaled by another em. So is ink so far from its golden, or so
// large, that the box around both is a flood beside the larger one, or passes maxSpan.
const (
	timesLarger = 64
	leastFlood  = 1 << 16 // pixels; 256 × 256
	maxSpan     = 1 << 24 // pixels; 72 pt at 2400 dpi has 5.8 million
)

// flood says why a pair is not judged pixel by pixel; "" where it is.
func flood(g, c *glyph.Bitmap) string {
	a, b := g.Width*g.Height, c.Width*c.Height
	small, large := min(a, b), max(a, b)
	if large >= leastFlood && large >= timesLarger*small {
		return fmt.Sprintf("another drawing: %d × %d pixels where the golden has %d × %d", c.Width, c.Height, g.Width, g.Height)
	}
	w, h := max(g.Right(), c.Right())-min(g.Left, c.Left), max(g.Top(), c.Top())-min(g.Bottom, c.Bottom)
	if span := w * h; small > 0 && (span > maxSpan || span >= leastFlood && span >= timesLarger*large) {
		return fmt.Sprintf("another drawing: too far from the golden, or too large, to judge by the pixel: %d × %d pixels hold both", w, h)
	}
	return ""
}

// replaced reports that one drawing stands for another: the ink of the larger
// is extra, or missing, as a whole.
func (j *Judge) replaced(p Pair, why string) Report {
	g, c := &p.Golden.Bitmap, &p.Candidate.Bitmap
	lost, gained := g.Ink(), c.Ink()
	kind, larger := Extra, p.Candidate
	if lost > gained {
		kind, larger = Missing, p.Golden
	}
	f := j.whole(kind, larger)
	f.Text = why
	r := Report{Findings: []Finding{f}, Lost: lost, Gained: gained}
	if s, ok := j.spacing(p); ok {
		r.Findings = append(r.Findings, s)
	}
	return r
}
