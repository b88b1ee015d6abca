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

// A letter and its accent are two things for a build that makes one of the other.
func TestALetterThatMovesUnderItsAccentIsNamed(t *testing.T) {
	with := func(letter [4]int, accent ...[4]int) *glyph.Cell {
		c := at10(plan{}, 1, append(accent, letter)...)
		c.Code = 'é'
		return c
	}
	golden := with([4]int{12, 0, 18, 8}, [4]int{13, 10, 17, 11}, [4]int{14, 11, 16, 12})
	for _, c := range []struct {
		reason    string
		candidate *glyph.Cell
		kind      diff.Kind
		text      string
	}{
		{"a row up", with([4]int{12, 1, 18, 9}, [4]int{13, 10, 17, 11}, [4]int{14, 11, 16, 12}), diff.Moved, "letter moved 1 px up beside its accent"},
		{"into it", with([4]int{12, 2, 18, 10}, [4]int{13, 10, 17, 11}, [4]int{14, 11, 16, 12}), diff.Bridge, "letter moved 2 px up and runs into the accent"},
		{"far aside", with([4]int{3, 0, 9, 8}, [4]int{13, 10, 17, 11}, [4]int{14, 11, 16, 12}), diff.Moved,
			"letter moved 9 px left, its upper accent did not; its shape is judged where it stands now"},
		{"both", with([4]int{13, 1, 19, 9}, [4]int{14, 11, 18, 12}, [4]int{15, 12, 17, 13}), diff.Moved,
			"whole glyph moved 1 px right and 1 px up; its shape is judged where it stands now"},
	} {
		r := at(300).Compare(diff.Pair{Golden: golden, Candidate: c.candidate})
		require.Len(t, r.Findings, 1, "%s: %+v", c.reason, r.Findings)
		require.Equal(t, c.kind, r.Findings[0].Kind, c.reason)
		require.Equal(t, c.text, r.Findings[0].Text, c.reason)
	}
}

// Three quarters of the pixels would be explained by a shift of all; but the foot stands still.
func TestALetterThatIsLowerAtItsTopAloneDidNotMove(t *testing.T) {
	stemmed := func(high int) *glyph.Cell {
		c := at10(plan{}, 1, [4]int{2, 0, 4, high}, [4]int{1, high + 2, 3, high + 3}, [4]int{3, high + 3, 5, high + 4})
		c.Code = 'í'
		return c
	}
	r := at(300).Compare(diff.Pair{Golden: stemmed(9), Candidate: stemmed(8)})
	var texts []string
	for _, f := range r.Findings {
		texts = append(texts, f.Text)
	}
	require.ElementsMatch(t, []string{"top row 1 px lower", "upper accent moved 1 px down beside the rest of the letter"}, texts)
}
