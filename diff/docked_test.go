package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestAnAccentThatMovesIntoItsLetterIsNamedAndNotTheStrokes(t *testing.T) {
	base := plan{ink: [][4]int{{0, 0, 60, 80}}, white: [][4]int{{20, 20, 40, 60}}}
	with := func(boxes ...[4]int) *glyph.Cell {
		c := at10(base, 1, boxes...)
		c.Code = 'é'
		return c
	}
	for _, c := range []struct {
		reason            string
		golden, candidate *glyph.Cell
		kind              diff.Kind
		px                float64
		text              string
	}{
		{"an accent a row down", with([4]int{1, 9, 5, 11}), with([4]int{1, 8, 5, 10}), diff.Bridge, -1, "upper accent moved 1 px down and runs into the letter"},
		{"and up again", with([4]int{1, 8, 5, 10}), with([4]int{1, 9, 5, 11}), diff.Break, 1, "upper accent moved 1 px up and parts from the letter"},
		{"two dots", with([4]int{0, 9, 2, 11}, [4]int{4, 9, 6, 11}), with([4]int{0, 8, 2, 10}, [4]int{4, 8, 6, 10}), diff.Bridge, -1, "2 dots moved 1 px down and run into the rest"},
		{"the letter is another too", with([4]int{1, 9, 5, 11}), with([4]int{1, 8, 5, 10}, [4]int{6, 0, 7, 8}), diff.Bridge, 0, ""},
	} {
		r := at(300).Compare(diff.Pair{Golden: c.golden, Candidate: c.candidate})
		require.NotEmpty(t, r.Findings, c.reason)
		f := r.Findings[0]
		if c.text == "" {
			require.NotContains(t, f.Text, "moved", c.reason)
			continue
		}
		require.Len(t, r.Findings, 1, "%s: %+v", c.reason, r.Findings)
		require.Equal(t, c.kind, f.Kind, c.reason)
		require.Equal(t, c.text, f.Text, c.reason)
		require.Equal(t, c.px, f.MeasurePx, c.reason)
		require.Equal(t, diff.Move{DY: int(c.px)}, f.Move, c.reason)
		require.Equal(t, diff.Critical, f.Severity, c.reason)
	}
}
