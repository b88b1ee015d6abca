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

func TestAMarkThatReachesOtherwiseIsNoRowOfTheFace(t *testing.T) {
	letter := drawn(`
		......##..
		....##....
		..........
		.########.
		##......##
		##......##
		##......##
		##......##
		##......##
		.########.
		....#.....
		....###...
		..####....`)
	zones := &glyph.Design{UPEM: 1000, Zones: []glyph.Zone{{Name: "ascender", Flat: 390, Over: 390, Top: true}, {Name: "descender", Flat: 0, Over: 0}}}
	tailUp := box(box(box(letter, 0, 2, 0, 7, 3), 1, 2, 1, 6, 2), 1, 4, 2, 7, 3)
	for _, c := range []struct {
		reason    string
		code      rune
		candidate *glyph.Cell
		kind      diff.Kind
		severity  diff.Severity
		text      string
	}{
		{"a cedilla, in one piece with its letter", 'ç', tailUp, diff.Moved, diff.Minor, "cedilla moved 1 px up"},
		{"so is an ogonek", 'ą', tailUp, diff.Moved, diff.Minor, "ogonek moved 1 px up"},
		{"a cedilla to the right", 'ç', box(box(box(box(letter, 0, 2, 0, 7, 3), 1, 3, 0, 7, 1), 1, 5, 1, 8, 2), 1, 5, 2, 6, 3), diff.Moved, diff.Minor, "cedilla moved 1 px right"},
		{"a tail of the letter's own", 'q', tailUp, diff.Height, diff.Major, "descender 1 px higher"},
		{"a row more of an accent", 'á', box(letter, 1, 6, 13, 8, 14), diff.Edge, diff.Minor, "upper accent reaches 1 px higher"},
		{"of a dot, where the letter has one", 'į', box(letter, 1, 6, 13, 7, 14), diff.Edge, diff.Minor, "upper dot reaches 1 px higher"},
		{"a horn stands at the right", 'ơ', box(letter, 1, 6, 13, 8, 14), diff.Height, diff.Major, "ascender 1 px higher"},
		{"where it does", 'ơ', box(letter, 1, 8, 13, 10, 14), diff.Edge, diff.Minor, "horn reaches 1 px higher"},
		{"a letter that has an apostrophe for its caron", 'ď', box(letter, 1, 6, 13, 8, 14), diff.Height, diff.Major, "ascender 1 px higher"},
	} {
		g, d := *letter, *c.candidate
		g.Code, d.Code = c.code, c.code
		r := at(300).Compare(diff.Pair{Golden: &g, Candidate: &d, Design: zones, PPEM: glyph.PixelsPerEm(glyph.Pt(8), glyph.Dots(300))})
		require.NotEmpty(t, r.Findings, c.reason)
		f := r.Findings[0]
		require.Equal(t, c.text, f.Text, "%s: %+v", c.reason, r.Findings)
		require.Equal(t, c.kind, f.Kind, c.reason)
		require.Equal(t, c.severity, f.Severity, c.reason)
	}
}
