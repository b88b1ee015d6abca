package diff

import (
	"fmt"

	"smokeproof/harness/glyph"
)

// A side whose box is at least timesLarger than the other's and has at least
// leastFlood pixels is another drawing: a broken outline, or a face scaled by
// another em. To go through a flood of pixels one by one costs seconds and
// tells a reader nothing that its size does not.
const (
	timesLarger = 64
	leastFlood  = 1 << 16 // pixels; 256 × 256
)

func anotherDrawing(g, c *glyph.Cell) bool {
	small, large := boxOf(g), boxOf(c)
	if small > large {
		small, large = large, small
	}
	return large >= leastFlood && large >= timesLarger*small
}

// boxOf is the area of a cell's bitmap, in pixels.
func boxOf(c *glyph.Cell) int { return c.Bitmap.Width * c.Bitmap.Height }

// replaced reports that one drawing stands for another: the ink of the larger
// is extra, or missing, as a whole.
func (j *Judge) replaced(p Pair) Report {
	kind, large := Extra, p.Candidate
	if boxOf(p.Golden) > boxOf(p.Candidate) {
		kind, large = Missing, p.Golden
	}
	f := j.whole(kind, large)
	g, c := &p.Golden.Bitmap, &p.Candidate.Bitmap
	f.Text = fmt.Sprintf("another drawing: %d × %d pixels where %d × %d are approved", c.Width, c.Height, g.Width, g.Height)
	r := Report{Findings: []Finding{f}, Lost: g.Ink(), Gained: c.Ink()}
	if s, ok := j.spacing(p); ok {
		r.Findings = append(r.Findings, s)
	}
	return r
}
