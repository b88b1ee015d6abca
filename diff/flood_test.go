package diff

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// block is a solid rectangle at the origin.
func block(w, h int) *glyph.Cell {
	b := glyph.NewBitmap(0, 0, w, h, 1)
	for y := range h {
		for x := range w {
			b.Set(x, y, 1)
		}
	}
	return &glyph.Cell{Ref: glyph.Ref{Key: "A"}, Advance: 10, Bitmap: b}
}

func at(c *glyph.Cell, left, bottom int) *glyph.Cell {
	c.Bitmap.Left, c.Bitmap.Bottom = left, bottom
	return c
}

func TestAFloodOfInkIsAnotherDrawingAndJudgedAtOnce(t *testing.T) {
	tests := []struct {
		golden, candidate *glyph.Cell
		kind              Kind
		reason            string
	}{
		{block(9, 10), block(3000, 3000), Extra, "a candidate scaled by another em"},
		{block(3000, 3000), block(9, 10), Missing, "and the other way round"},
		{at(block(9, 10), -32000, -32000), block(9, 12), Extra, "a candidate at the other end of the world"},
		{block(9, 12), at(block(9, 10), 32000, 32000), Missing, "and the other way round"},
		{block(12, 12), at(block(12, 12), 0, 8000), Extra, "a drawing as large, far above"},
	}
	j := NewJudge(Viewing{DPI: glyph.Dots(203), DistanceMM: 400})
	for _, tt := range tests {
		began := time.Now()
		r := j.Compare(Pair{Golden: tt.golden, Candidate: tt.candidate})
		require.Less(t, time.Since(began), 5*time.Second, tt.reason)
		require.Len(t, r.Findings, 1, tt.reason)
		require.Equal(t, tt.kind, r.Findings[0].Kind, tt.reason)
		require.Equal(t, Critical, r.Worst(), tt.reason)
		require.Contains(t, r.Findings[0].Text, "another drawing", tt.reason)
		require.Empty(t, j.Weights(Pair{Golden: tt.golden, Candidate: tt.candidate}).W, tt.reason)
	}
}

func TestALargeGlyphThatGrewOrMovedIsNoOtherDrawing(t *testing.T) {
	for _, c := range []struct {
		golden, candidate *glyph.Cell
		reason            string
	}{
		{block(300, 300), block(330, 330), "a large size, slightly bolder"},
		{block(2, 2), block(40, 40), "a period that became a bullet"},
		{block(20, 20), at(block(20, 20), 200, 30), "a letter that moved by its width ten times"},
		{block(1, 1), at(block(1, 1), 100, 200), "a dot on another letter of a large size"},
	} {
		require.Empty(t, flood(&c.golden.Bitmap, &c.candidate.Bitmap), c.reason)
	}
}
