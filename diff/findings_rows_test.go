package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestATailThatIsGoneIsNoLackOfOvershoot(t *testing.T) {
	tail := drawn(`
		.####.
		.####.
		.####.
		.####.
		.####.
		.####.
		.####.
		.####.
		.####.
		.####.
		######
		.####.
		..##..`)
	r := compare(at(203), tail, box(tail, 0, 0, 0, 6, 3))
	require.Equal(t, diff.Height, r.Findings[0].Kind, "rounds reach a row further, not three: %+v", r.Findings)
	require.Equal(t, diff.Critical, r.Worst())
	r = compare(at(203), tail, box(tail, 0, 0, 0, 6, 1))
	require.Equal(t, diff.Overshoot, r.Findings[0].Kind, "%+v", r.Findings)
}

func TestALetterOfBarsAloneIsJudgedToItsLastRow(t *testing.T) {
	xi := drawn(`
		##########
		##########
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		.########.
		.########.
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		..........
		##########
		##########
		##########`)
	xi.Code = 'Ξ'
	r := compare(at(203), xi, box(xi, 1, 0, 3, 10, 4))
	require.Len(t, r.Findings, 1, "%+v", r.Findings)
	require.Equal(t, "top row 1 px higher", r.Findings[0].Text, "fewer rows are under the end of its largest part than a third of the letter has")
}

func TestLettersReachNoFigureHeight(t *testing.T) {
	d := designN()
	d.Zones = []glyph.Zone{{Flat: 200, Over: 203, Top: true, Name: "figure-height"}}
	for _, c := range []struct {
		code rune
		what string
	}{{'1', "figure-height"}, {'n', "top row"}} {
		golden := drawn(letterN)
		golden.Code = c.code
		r := at(300).Compare(diff.Pair{Golden: golden, Candidate: box(box(golden, 1, 0, 10, 3, 11), 1, 5, 10, 9, 11), Design: d, PPEM: glyph.PPEM{X: 20 * 64, Y: 20 * 64}})
		require.Equal(t, c.what, r.Findings[0].Place.What, "%c: %+v", c.code, r.Findings)
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
