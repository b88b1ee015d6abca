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

func TestAFloodOfInkIsAnotherDrawingAndJudgedAtOnce(t *testing.T) {
	tests := []struct {
		golden, candidate *glyph.Cell
		kind              Kind
		reason            string
	}{
		{block(9, 10), block(3000, 3000), Extra, "a candidate scaled by another em"},
		{block(3000, 3000), block(9, 10), Missing, "and the other way round"},
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

func TestALargeGlyphThatGrewIsNoOtherDrawing(t *testing.T) {
	require.False(t, anotherDrawing(block(300, 300), block(330, 330)), "a large size, slightly bolder")
	require.False(t, anotherDrawing(block(2, 2), block(40, 40)), "a period that became a bullet")
}
