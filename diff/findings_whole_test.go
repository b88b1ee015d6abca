package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestWhatBefallsAWholeLetterIsOneFinding(t *testing.T) {
	h, e, x, o, i := drawn(letterH), drawn(letterE), drawn(letterX), drawn(letterO), drawn(letterI)
	narrow := moved(x, 0, 0)
	narrow.Advance = 7
	armed := drawn(`
		..##########
		..##........
		..##........
		..##........
		..##........
		..########..
		..##........
		..##........
		..##........
		..##........
		..##########`)
	stem, square := box(blank(), 1, 0, 0, 2, 12), box(blank(), 1, 5, 0, 9, 4)
	for _, c := range []struct {
		golden, candidate *glyph.Cell
		kind              diff.Kind
		least             diff.Severity
		text, reason      string
	}{
		{h, x, diff.Missing, diff.Critical, "another drawing than the golden: 67% of its ink is gone, 57% of what is drawn is new; advance 2 px wider", "X in the cell of H"},
		{o, narrow, diff.Missing, diff.Critical, "another drawing than the golden: 82% of its ink is gone, 76% of what is drawn is new; advance 5 px narrower", "X in the cell of O: its advance is a part of that"},
		{stem, square, diff.Missing, diff.Critical, "another drawing than the golden: 100% of its ink is gone, 100% of what is drawn is new", "two shapes, each in one piece"},
		{e, smeared(e), diff.StemWeight, diff.Major, "bolder all over: strokes 1 px thicker", "a pixel more on every row of e"},
		{h, smeared(smeared(h)), diff.StemWeight, diff.Major, "bolder all over: strokes 2 px thicker", "two on every row of H"},
		{i, smeared(i), diff.StemWeight, diff.Major, "stem 1 px thicker", "serifs grow with the one stem of I"},
		{smeared(e), e, diff.StemWeight, diff.Major, "lighter all over: strokes 1 px thinner", "and the other way round"},
		{x, smeared(x), diff.StemWeight, diff.Minor, "", "no stem at all, but diagonals"},
		{i, armed, diff.Missing, diff.Critical, "another drawing than the golden: 33% of its ink is gone, 55% of what is drawn is new; advance 4 px wider", "E in the cell of I, all of which has ink beside it"},
	} {
		r := compare(at(300), c.golden, c.candidate)
		require.Len(t, r.Findings, 1, "%s: %+v", c.reason, r.Findings)
		f := r.Findings[0]
		require.Equal(t, c.kind, f.Kind, c.reason)
		require.GreaterOrEqual(t, f.Severity, c.least, c.reason)
		if c.text != "" {
			require.Equal(t, c.text, f.Text, c.reason)
		}
		require.Equal(t, "whole glyph", f.Place.What, c.reason)
	}
}

// A letter keeps its own findings as long as most of it is where it was.
func TestOneFaultIsNoOtherDrawing(t *testing.T) {
	h, e, o := drawn(letterH), drawn(letterE), drawn(letterO)
	for _, c := range []struct {
		golden, candidate *glyph.Cell
		reason            string
	}{
		{h, box(box(h, 0, 2, 6, 8, 7), 1, 2, 2, 8, 3), "the crossbar stands four rows lower"},
		{o, box(o, 1, 2, 2, 10, 10), "the counter is filled"},
		{e, box(e, 0, 0, 0, 10, 5), "the lower half is gone"},
		{h, moved(h, 5, 3), "far from its place"},
	} {
		for _, f := range compare(at(300), c.golden, c.candidate).Findings {
			require.NotContains(t, f.Text, "another drawing", c.reason)
		}
	}
}

func TestACounterThatClosesInABolderCutIsToldBesides(t *testing.T) {
	small := drawn(`
		.####.
		##..##
		##.###
		##.##.
		##..##
		.####.`)
	r := compare(at(203), small, smeared(small))
	require.Equal(t, diff.Critical, r.Worst(), "%+v", r.Findings)
	require.NotEqual(t, diff.StemWeight, r.Findings[0].Kind, "%+v", r.Findings)
}

// A bar that moved by as much as it is thick has little of the other drawing beside it.
func TestACapHeightOfTwoRowsLessIsNoOtherDrawing(t *testing.T) {
	high := plan{ink: [][4]int{{0, 100, 100, 120}, {40, 0, 60, 100}, {20, 0, 80, 20}}}
	low := plan{ink: [][4]int{{0, 80, 100, 100}, {40, 0, 60, 80}, {20, 0, 80, 20}}}
	r := at(300).Compare(diff.Pair{Golden: at10(high, 0), Candidate: at10(low, 0)})
	require.Equal(t, diff.Height, r.Findings[0].Kind, "%+v", r.Findings)
	require.Equal(t, "top row 2 px lower", r.Findings[0].Text)
	require.Len(t, r.Findings, 1)
}
