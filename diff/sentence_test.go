package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

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
		{box(h, 1, 2, 0, 3, 12), nil, "left stem 1 px wider than the right; equal in the approved bitmap", 0},
		{box(h, 1, 2, 0, 3, 12), stems, "left stem 1 px wider than the right; equal in the outline", 30},
		{box(h, 0, 9, 0, 10, 12), stems, "right stem 1 px narrower than the left; equal in the outline", -30},
		{box(h, 0, 2, 6, 8, 7), nil, "crossbar is gone: 1 px thick, 6 px long in the approved bitmap", 0},
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

func TestABarThatLeavesAnAlignmentRowIsNamedByTheRow(t *testing.T) {
	h := drawn(letterH)
	up := box(box(h, 0, 2, 6, 8, 7), 1, 2, 7, 8, 8)
	bar := glyph.Outline{Ends: []int{3}} // from 180 to 210 units
	for _, p := range [][2]fixed.Int26_6{{60, 180}, {60, 210}, {240, 210}, {240, 180}} {
		bar.Points = append(bar.Points, glyph.Point{X: p[0] * 64, Y: p[1] * 64, Kind: glyph.OnCurve})
	}
	design := func(z glyph.Zone) *glyph.Design {
		return &glyph.Design{UPEM: 1000, Outline: bar, Zones: []glyph.Zone{z}}
	}
	for _, c := range []struct {
		reason string
		code   rune
		design *glyph.Design
		want   string
	}{
		{"flat under the row", 'h', design(glyph.Zone{Name: "x-height", Flat: 210, Over: 220, Top: true}), "x-height 1 px higher, at the crossbar"},
		{"a round's overshoot above it", 'h', design(glyph.Zone{Name: "x-height", Flat: 200, Over: 205, Top: true}), "x-height 1 px higher, at the crossbar"},
		{"a bar stands on a row by chance, as g's on the baseline", 'h', design(glyph.Zone{Name: "baseline", Flat: 180, Over: 170}), "crossbar moved 1 px up; its weight is unchanged"},
		{"further off than an overshoot", 'h', design(glyph.Zone{Name: "x-height", Flat: 160, Over: 170, Top: true}), "crossbar moved 1 px up; its weight is unchanged"},
		{"short of the row", 'h', design(glyph.Zone{Name: "x-height", Flat: 225, Over: 230, Top: true}), "crossbar moved 1 px up; its weight is unchanged"},
		{"capitals have no x-height", 'H', design(glyph.Zone{Name: "x-height", Flat: 210, Over: 220, Top: true}), "crossbar moved 1 px up; its weight is unchanged"},
		{"no face is at hand", 'h', nil, "crossbar moved 1 px up; its weight is unchanged"},
	} {
		g := *h
		g.Code = c.code
		r := at(300).Compare(diff.Pair{Golden: &g, Candidate: up, Design: c.design, PPEM: glyph.PixelsPerEm(glyph.Pt(8), glyph.Dots(300))})
		require.Len(t, r.Findings, 1, c.reason)
		require.Equal(t, c.want, r.Findings[0].Text, c.reason)
		require.Equal(t, 1.0, r.Findings[0].MeasurePx, c.reason)
	}
}

func TestTheLetterUnderADotEndsAtARowOfItsOwn(t *testing.T) {
	i := drawn(letterDotted)
	lower := box(i, 0, 0, 6, 3, 7)
	for _, c := range []struct {
		reason string
		code   rune
		want   string
	}{
		{"the stem of i", 'i', "top row 1 px lower"},
		{"a mark is no letter", '!', "stem 1 px shorter at its upper end"},
	} {
		g := *i
		g.Code = c.code
		r := compare(at(300), &g, lower)
		require.Len(t, r.Findings, 1, c.reason)
		require.Equal(t, c.want, r.Findings[0].Text, c.reason)
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

// A stem's edge outweighs a diagonal's, and the hairline that joins two stems
// outweighs both.
func TestWeightsFollowTheStructure(t *testing.T) {
	weight := func(c *glyph.Cell, x, y int) float64 {
		m := at(300).Weights(diff.Pair{Golden: c, Candidate: c})
		return m.W[(m.Bottom+m.Height-1-y)*m.Width+x-m.Left]
	}
	h, x := drawn(letterH), drawn(letterX)
	edge, stair, hair := weight(h, 1, 3), weight(x, 2, 2), weight(h, 5, 6)
	require.Greater(t, edge, stair)
	require.Greater(t, hair, edge)
}

func TestWeightsAreThoseOfTheSideThatWeighsMore(t *testing.T) {
	h := drawn(letterH)
	changed := box(h, 0, 0, 0, 2, 1) // its box stays what it was
	both := at(300).Weights(diff.Pair{Golden: h, Candidate: changed}).W
	one := at(300).Weights(diff.Pair{Golden: h, Candidate: h}).W
	other := at(300).Weights(diff.Pair{Golden: changed, Candidate: changed}).W
	require.Len(t, one, len(both))
	require.Len(t, other, len(both))
	require.NotEqual(t, one, other)
	for i := range both {
		require.Equal(t, max(one[i], other[i]), both[i])
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
