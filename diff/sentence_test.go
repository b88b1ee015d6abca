package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestSentencesReadAsATypePersonSpeaks(t *testing.T) {
	h := drawn(letterH)
	stems := &glyph.Design{UPEM: 1000, Stems: []glyph.Stem{
		{Axis: glyph.AxisX, Lo: 0, Hi: 60}, {Axis: glyph.AxisX, Lo: 240, Hi: 300},
	}, Zones: []glyph.Zone{{Name: "cap-height", Flat: 360, Over: 370, Top: true}}}
	ppem := glyph.PixelsPerEm(glyph.Pt(8), glyph.Dots(300))
	wider := *h
	wider.Advance++
	for _, c := range []struct {
		candidate *glyph.Cell
		design    *glyph.Design
		want      string
		fu        float64 // 1 px at 33.333 ppem is 30 units of 1000
	}{
		{box(h, 1, 2, 0, 3, 12), nil, "left stem 1 px wider than the right; equal in the golden", 0},
		{box(h, 1, 2, 0, 3, 12), stems, "left stem 1 px wider than the right; equal in the outline", 30},
		{box(h, 0, 9, 0, 10, 12), stems, "right stem 1 px narrower than the left; equal in the outline", -30},
		{box(h, 0, 2, 6, 8, 7), nil, "crossbar is gone: 1 px thick, 6 px long in the golden", 0},
		{box(h, 1, 2, 0, 8, 1), nil, "bottom bar that the golden lacks joins two strokes: 1 px thick, 6 px long", 0},
		{box(h, 0, 0, 11, 10, 12), stems, "cap-height 1 px lower", -30},
		{moved(h, -1, 0), stems, "whole glyph moved 1 px left; its shape is judged where it stands now", -30},
		{&wider, stems, "advance 1 px wider", 30},
	} {
		r := at(300).Compare(diff.Pair{Golden: h, Candidate: c.candidate, Design: c.design, PPEM: ppem})
		require.Len(t, r.Findings, 1, "%s: %+v", c.want, r.Findings)
		require.Equal(t, c.want, r.Findings[0].Text)
		require.InDelta(t, c.fu, r.Findings[0].MeasureFU, 0.1)
	}
}

func TestWhatStandsElsewhereSaysHowFarEachWay(t *testing.T) {
	h := drawn(letterH)
	dotted := box(drawn(letterI), 1, 3, 14, 5, 16)
	oblong := glyph.PPEM{X: 20 * 64, Y: 40 * 64} // pixels half as tall as wide: 1 px is 50 or 25 units of 1000
	for _, c := range []struct {
		reason            string
		golden, candidate *glyph.Cell
		move              diff.Move
		fu                float64
	}{
		{"the whole glyph, aside", h, moved(h, -2, 0), diff.Move{DX: -2}, -100},
		{"the whole glyph, up", h, moved(h, 0, 1), diff.Move{DY: 1}, 25},
		{"a bar", h, box(box(h, 0, 2, 6, 8, 7), 1, 2, 7, 8, 8), diff.Move{DY: 1}, 25},
		{"a stem", h, box(box(h, 0, 0, 0, 1, 12), 1, 2, 0, 3, 12), diff.Move{DX: 1}, 50},
		{"a dot, down", dotted, box(box(dotted, 0, 3, 15, 5, 16), 1, 3, 13, 5, 14), diff.Move{DY: -1}, -25},
		{"a top", h, box(h, 0, 0, 11, 10, 12), diff.Move{DY: -1}, -25},
		{"nothing: a stem grew where it stands", h, box(h, 1, 2, 0, 3, 12), diff.Move{}, 50},
	} {
		r := at(300).Compare(diff.Pair{Golden: c.golden, Candidate: c.candidate, Design: &glyph.Design{UPEM: 1000}, PPEM: oblong})
		require.Len(t, r.Findings, 1, "%s: %+v", c.reason, r.Findings)
		require.Equal(t, c.move, r.Findings[0].Move, c.reason)
		require.InDelta(t, c.fu, r.Findings[0].MeasureFU, 0.1, c.reason)
	}
}

func TestAnEmptyGlyphCanChangeItsAdvance(t *testing.T) {
	r := compare(at(300), &glyph.Cell{Advance: 9}, &glyph.Cell{Advance: 10})
	require.Len(t, r.Findings, 1)
	require.Equal(t, diff.Spacing, r.Findings[0].Kind)
}

func TestAbsentGlyphsAreCritical(t *testing.T) {
	for _, kind := range []diff.Kind{diff.Missing, diff.Extra, diff.Undrawn} {
		for _, c := range []*glyph.Cell{drawn(letterH), {}} {
			r := at(300).Absent(kind, c)
			require.Equal(t, kind, r.Findings[0].Kind)
			require.Equal(t, diff.Critical, r.Worst())
			require.Positive(t, r.Score)
			require.Equal(t, c.Bitmap.Ink(), r.Lost+r.Gained)
		}
	}
}

func TestSeverityIsTheSameFromEitherSideForPlainFaults(t *testing.T) {
	h := drawn(letterH)
	for reason, c := range map[string]*glyph.Cell{
		"a stem wider, a stem narrower": box(h, 1, 2, 0, 3, 12),
		"a bridge, a break":             box(h, 1, 2, 2, 8, 3),
		"lower, higher":                 box(h, 0, 0, 11, 10, 12),
		"left, right":                   moved(h, 1, 0),
	} {
		a, b := compare(at(300), h, c), compare(at(300), c, h)
		require.Equal(t, a.Worst(), b.Worst(), reason)
	}
}

func TestThePlaceOfAFindingIsItsPixels(t *testing.T) {
	h := moved(drawn(letterH), 5, -3)
	r := compare(at(300), h, moved(box(drawn(letterH), 1, 2, 0, 3, 12), 5, -3))
	require.Equal(t, diff.Place{X0: 7, Y0: -3, X1: 8, Y1: 9, What: "left stem"}, r.Findings[0].Place)
	require.Equal(t, 1.0, r.Findings[0].MeasurePx)
}

func TestABarIsNamedByWhereItLiesAmongTheInk(t *testing.T) {
	dash := box(blank(), 1, 0, 4, 10, 6)
	for _, c := range []struct {
		golden *glyph.Cell
		row    int // that is filled beside the bar
		want   string
	}{
		{dash, 6, "bar"},
		{box(dash, 1, 4, 6, 6, 12), 6, "bottom bar"},
		{box(dash, 1, 4, 0, 6, 4), 3, "top bar"},
		{box(dash, 1, 4, 0, 6, 12), 6, "crossbar"},
	} {
		r := compare(at(300), c.golden, box(c.golden, 1, 0, c.row, 10, c.row+1))
		require.NotEmpty(t, r.Findings)
		require.Equal(t, diff.BarWeight, r.Findings[0].Kind, "%s: %+v", c.want, r.Findings)
		require.Equal(t, c.want, r.Findings[0].Place.What, "%+v", r.Findings)
	}
}
