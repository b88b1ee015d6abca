package harness

import (
	"math"

	"smokeproof/harness/glyph"
)

// absence stands for a candidate that is not there, so that a person can put it
// off or reject it like one: an advance that no glyph has, one for each status.
// It is never a golden.
func absence(ref glyph.Ref, status Status) *glyph.Cell {
	c := &glyph.Cell{Ref: ref, Advance: math.MinInt32, Bitmap: glyph.Bitmap{Depth: 1}}
	if status == StatusUndrawn {
		c.Advance++
	}
	return c
}

// candidate is what a decision on a change speaks of.
func (c *Change) candidate() *glyph.Cell {
	if c.cell != nil {
		return c.cell
	}
	return absence(glyph.Ref{Key: glyph.Key(c.Glyph), Code: rune(c.Code), Index: c.Index}, c.Status)
}
