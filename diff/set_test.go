package diff_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// At 10 ppem of 100 units a pixel is 10 units: the design of letterH, 12 rows
// tall, stems 20 units wide.
var tenPPEM = glyph.PPEM{X: 640, Y: 640}

func designOfH() *glyph.Design {
	at := func(x, y int) glyph.Point {
		return glyph.Point{X: fixed.I(x), Y: fixed.I(y), Kind: glyph.OnCurve}
	}
	return &glyph.Design{UPEM: 100, Advance: 100, Zones: []glyph.Zone{
		{Name: "cap-height", Flat: 120, Over: 123, Top: true}, {Name: "baseline"},
	}, Outline: glyph.Outline{Ends: []int{11}, Points: []glyph.Point{
		at(0, 0), at(0, 120), at(20, 120), at(20, 70), at(80, 70), at(80, 120),
		at(100, 120), at(100, 0), at(80, 0), at(80, 60), at(20, 60), at(20, 0),
	}}}
}

// strikeOf gives five letters of one design, the last drawn as told.
func strikeOf(last *glyph.Cell) []diff.Member {
	var list []diff.Member
	for i, c := range []*glyph.Cell{drawn(letterH), drawn(letterH), drawn(letterH), drawn(letterH), last} {
		c.Key, c.Code, c.Index = glyph.Key(rune('A'+i)), rune('A'+i), i+1
		list = append(list, diff.Member{Cell: c, Design: designOfH()})
	}
	return list
}

func TestGlyphsOfAStrikeAreHeldBesideEachOther(t *testing.T) {
	h := drawn(letterH)
	for _, c := range []struct {
		reason string
		last   *glyph.Cell
		kind   diff.Kind
		text   string
	}{
		{"one stem of a width that nine others have in 2 px", box(h, 1, 2, 0, 3, 12), diff.StemUneven,
			"left stem 1 px thicker than most of its width: 3 px, where 9 of 10 stems of 20 units are 2 px"},
		{"a bar thicker than the others", box(h, 1, 2, 7, 8, 8), diff.BarWeight,
			"crossbar 1 px thicker than most of its width: 2 px, where 4 of 5 bars of 10 units are 1 px"},
		{"a row short of the cap height", box(h, 0, 0, 11, 10, 12), diff.Height,
			"cap-height 1 px lower than in 4 of the 5 glyphs that end flat there"},
		{"a row below the baseline", moved(h, 0, -1), diff.Height, "baseline 1 px lower than in 4 of the 5 glyphs that end flat there"},
	} {
		_, found := at(300).Set(8000, tenPPEM, strikeOf(c.last))
		require.NotEmpty(t, found, c.reason)
		i := 0
		for i < len(found) && found[i].Kind != c.kind || i < len(found) && found[i].Text != c.text {
			i++
		}
		require.Less(t, i, len(found), "%s: %+v", c.reason, found)
		require.Equal(t, glyph.Key("E"), found[i].Glyph, c.reason)
		require.GreaterOrEqual(t, found[i].Severity, diff.Major, c.reason)
	}
	_, found := at(300).Set(8000, tenPPEM, strikeOf(h))
	require.Empty(t, found, "all alike")
}

func TestBearingsFollowTheOutline(t *testing.T) {
	h := drawn(letterH)
	h.Code, h.Key, h.Index = 'H', "H", 1
	_, found := at(300).Set(8000, tenPPEM, []diff.Member{{Cell: h, Design: designOfH()}})
	require.Empty(t, found)
	aside := moved(h, 2, 0)
	_, found = at(300).Set(8000, tenPPEM, []diff.Member{{Cell: aside, Design: designOfH()}})
	require.Len(t, found, 1)
	require.Equal(t, diff.Spacing, found[0].Kind)
	require.Equal(t, "left bearing 2 px wider than in the outline", found[0].Text)
	require.InDelta(t, 20, found[0].MeasureFU, 1e-9)
}

func TestNothingFallsAsSizeGrows(t *testing.T) {
	j := at(300)
	thick := box(drawn(letterH), 1, 2, 0, 3, 12)
	all := func(c *glyph.Cell) []diff.Member {
		list := strikeOf(drawn(letterH))
		for i := range list {
			d := *c
			d.Ref = list[i].Cell.Ref
			list[i].Cell = &d
		}
		return list
	}
	small, _ := j.Set(8000, tenPPEM, all(thick))
	narrow := *drawn(letterH)
	narrow.Advance--
	large, _ := j.Set(9000, tenPPEM, all(&narrow))
	found := j.Series(small, large)
	require.Equal(t, found, j.Series(large, small), "in either order")
	var kinds []diff.Kind
	for _, f := range found {
		kinds = append(kinds, f.Kind)
	}
	require.Contains(t, kinds, diff.Spacing, "advances fell")
	require.Empty(t, j.Series(small, small), "equal is no fall")
	short, _ := j.Set(9000, tenPPEM, all(box(drawn(letterH), 0, 0, 11, 10, 12)))
	require.Equal(t, "cap-height (Latin) is 1 px lower than at 8 pt", j.Series(small, short)[0].Text)
}

func TestAWidthThatHasNoCommonThicknessDoesNotFall(t *testing.T) {
	j := at(300)
	left := box(drawn(letterH), 1, 2, 0, 3, 12)
	both := box(left, 1, 7, 0, 8, 12)
	size := func(points glyph.Points, thick int) *diff.Census { // so many of ten stems are 3 px, the others 2
		list := strikeOf(drawn(letterH))
		for i := range list {
			switch thick - 2*i {
			case 1:
				list[i].Cell.Bitmap = left.Bitmap
			case 2, 3, 4, 5, 6, 7, 8, 9, 10:
				list[i].Cell.Bitmap = both.Bitmap
			}
		}
		c, _ := j.Set(points, tenPPEM, list)
		return c
	}
	for _, c := range []struct {
		thick int
		falls bool
	}{{10, true}, {8, true}, {7, false}, {2, false}} {
		found := j.Series(size(8000, c.thick), size(9000, 0))
		require.Equal(t, c.falls, slices.ContainsFunc(found, func(f diff.SetFinding) bool { return f.Kind == diff.StemWeight }), "%d of 10 were 3 px", c.thick)
	}
}

func TestWhatFallsInSeveralScriptsAlikeIsToldOnce(t *testing.T) {
	j := at(300)
	latinAndGreek := func(c *glyph.Cell) []diff.Member {
		list := strikeOf(c)
		for _, m := range list[:len(list):len(list)] {
			greek := *m.Cell
			greek.Key, greek.Code = glyph.Key("greek "+string(greek.Key)), 'Α'
			list = append(list, diff.Member{Cell: &greek, Design: m.Design})
		}
		for i := range list { // all of them alike, so that the row is most glyphs'
			list[i].Cell.Bitmap = c.Bitmap
		}
		return list
	}
	tall, _ := j.Set(8000, tenPPEM, latinAndGreek(drawn(letterH)))
	short, _ := j.Set(9000, tenPPEM, latinAndGreek(box(drawn(letterH), 0, 0, 11, 10, 12)))
	found := j.Series(tall, short)
	require.Len(t, found, 1)
	require.Equal(t, "cap-height (Greek, Latin) is 1 px lower than at 8 pt", found[0].Text)
}

func TestStemsBesideEachOtherAreNamedFromLeftToRight(t *testing.T) {
	right := plan{ink: [][4]int{{80, 0, 100, 120}, {0, 0, 20, 120}, {20, 60, 80, 70}}} // contours come in any order
	list := strikeOf(box(drawn(letterH), 1, 2, 0, 3, 12))
	for i := range list {
		list[i].Design = right.design()
	}
	_, found := at(300).Set(8000, tenPPEM, list)
	require.NotEmpty(t, found)
	require.Equal(t, "left stem", found[0].Place.What)
}

func TestWhatIsNoEndOfTheLetterEndsNoAlignmentRow(t *testing.T) {
	anchored := designOfH()
	anchored.Outline.Points = append(anchored.Outline.Points, glyph.Point{X: fixed.I(50), Y: fixed.I(123), Kind: glyph.OnCurve})
	anchored.Outline.Ends = append(anchored.Outline.Ends, 12)
	list := strikeOf(box(drawn(letterH), 0, 0, 11, 10, 12))
	for i := range list {
		list[i].Design = anchored
	}
	_, found := at(300).Set(8000, tenPPEM, list)
	require.NotEmpty(t, found)
	require.Equal(t, diff.Height, found[0].Kind, "a lone point makes no round of a flat end: %+v", found)

	dotted := planI.design()
	dotted.Zones = designOfH().Zones
	list = strikeOf(drawn(`
		##
		##
		..
		..
		..
		##
		##
		##
		##
		##
		##
		##
		##`))
	list[4].Design = dotted
	_, found = at(300).Set(8000, tenPPEM, list)
	for _, f := range found {
		require.NotEqual(t, "cap-height", f.Place.What, "an accent that reaches it by chance: %+v", f)
	}
}

func TestABarIsNamedByTheLetterAndNotByItsAccent(t *testing.T) {
	under := plan{ink: [][4]int{{0, 0, 20, 120}, {20, 0, 100, 20}, {40, -60, 60, -30}}}
	var list []diff.Member
	for i := range 5 {
		c := drawn(`
			##........
			##........
			##........
			##........
			##........
			##........
			##........
			##........
			##........
			##........
			##########
			##########
			..........
			..........
			..........
			....##....
			....##....
			....##....`)
		c.Bitmap.Bottom = -6
		if i == 4 {
			c = box(c, 1, 2, 2, 10, 3)
		}
		c.Key, c.Code, c.Index = glyph.Key(rune('A'+i)), rune('A'+i), i+1
		list = append(list, diff.Member{Cell: c, Design: under.design()})
	}
	_, found := at(300).Set(8000, tenPPEM, list)
	require.NotEmpty(t, found)
	require.Equal(t, "bottom bar", found[0].Place.What, "%+v", found)
}

func TestSignsAndRaisedLettersKeepToNoRow(t *testing.T) {
	for _, c := range []struct {
		code   rune
		reason string
		found  bool
	}{
		{'D', "a letter", true},
		{'´', "an accent by itself", false},
		{'$', "a sign whose bar stands out of the figures", false},
		{'ª', "a raised letter", false},
	} {
		list := strikeOf(box(drawn(letterH), 0, 0, 11, 10, 12))
		for i := range list {
			list[i].Cell.Code = c.code
		}
		_, found := at(300).Set(8000, tenPPEM, list)
		rows := slices.ContainsFunc(found, func(f diff.SetFinding) bool { return f.Kind == diff.Height })
		require.Equal(t, c.found, rows, "%s: %+v", c.reason, found)
	}
}

// A foot that ends in a stem has the stem's columns beside its own.
func TestAStemIsNoBarForTheFootThatEndsInIt(t *testing.T) {
	tone := plan{ink: [][4]int{{0, 0, 60, 20}, {60, 0, 80, 120}}}
	narrow := plan{ink: [][4]int{{0, 0, 20, 20}, {20, 0, 80, 120}}} // hints made the stem wide
	var list []diff.Member
	for i := range 5 {
		c := at10(narrow, 0)
		if i == 4 {
			c = at10(tone, 0)
		}
		c.Key, c.Code, c.Index = glyph.Key(rune('A'+i)), rune('A'+i), i+1
		list = append(list, diff.Member{Cell: c, Design: tone.design()})
	}
	_, found := at(300).Set(8000, tenPPEM, list)
	for _, f := range found {
		require.NotEqual(t, diff.BarWeight, f.Kind, f.Text)
	}
}

func TestWhatThreeOfFourHaveIsNoRuleForTheFourth(t *testing.T) {
	_, found := at(300).Set(8000, tenPPEM, strikeOf(box(drawn(letterH), 1, 2, 0, 3, 12))[1:])
	require.NotContains(t, kindsOf(found), diff.BarWeight)
	require.NotEmpty(t, found, "of seven stems in eight it is one")
	_, found = at(300).Set(8000, tenPPEM, strikeOf(box(drawn(letterH), 0, 0, 11, 10, 12))[1:])
	require.Empty(t, found)
}

func kindsOf(found []diff.SetFinding) (kinds []diff.Kind) {
	for _, f := range found {
		kinds = append(kinds, f.Kind)
	}
	return kinds
}

// How much of a tip is drawn hangs on where it falls; a letter that ends in one is no shorter for it.
func TestATipReachesForNoAlignmentRow(t *testing.T) {
	for _, c := range []struct {
		reason string
		end    [][2]int // from the left of the letter's top to its right
		kinds  []diff.Kind
	}{
		{"flat", [][2]int{{20, 120}, {80, 120}}, []diff.Kind{diff.Height}},
		{"round, above the row by its overshoot", [][2]int{{20, 105}, {35, 121}, {50, 123}, {65, 121}, {80, 105}}, []diff.Kind{diff.Overshoot}},
		{"the tip of a slash", [][2]int{{20, 20}, {72, 123}, {80, 118}}, nil},
		{"a tip whose sides fall gently", [][2]int{{20, 100}, {52, 123}, {80, 104}}, nil},
	} {
		d := &glyph.Design{UPEM: 100, Advance: 100, Zones: designOfH().Zones}
		for i, q := range append([][2]int{{20, 0}}, append(c.end, [2]int{80, 0})...) {
			kind := glyph.OnCurve
			if len(c.end) == 5 && i > 1 && i < len(c.end) {
				kind = glyph.Quad
			}
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(q[0]), Y: fixed.I(q[1]), Kind: kind})
		}
		d.Outline.Ends = []int{len(d.Outline.Points) - 1}
		stem := plan{ink: [][4]int{{20, 0, 80, 120}}}
		list := strikeOf(at10(stem, 0, [4]int{2, 11, 8, 12}))
		for i := range list {
			list[i].Design = d
			if i < 4 {
				list[i].Cell.Bitmap = stem.bitmap(10)
			}
		}
		_, found := at(300).Set(8000, tenPPEM, list)
		require.Equal(t, c.kinds, kindsOf(found), "%s: %+v", c.reason, found)
	}
}

func TestStemsThatAreOneInkRunTogether(t *testing.T) {
	pair := plan{ink: [][4]int{{0, 0, 20, 120}, {26, 20, 46, 100}}}
	list := strikeOf(at10(pair, 1, [4]int{2, 2, 3, 10}))
	for i := range list {
		if list[i].Design = pair.design(); i < 4 {
			list[i].Cell.Bitmap = at10(pair, 0, [4]int{2, 0, 3, 12}).Bitmap
		}
	}
	_, found := at(300).Set(8000, tenPPEM, list)
	require.Len(t, found, 1, "%+v", found)
	require.Equal(t, diff.Bridge, found[0].Kind)
	require.Equal(t, "two stems run together; the outline holds them 0.6 px apart", found[0].Text)
}

func TestLettersAreHeldToNoFigureHeight(t *testing.T) {
	for code, want := range map[rune]bool{'Ʌ': false, '7': true} {
		list := strikeOf(box(drawn(letterH), 0, 0, 11, 10, 12))
		for i := range list {
			list[i].Cell.Code = code
			list[i].Design.Zones[0].Name = "figure-height"
		}
		_, found := at(300).Set(8000, tenPPEM, list)
		require.Equal(t, want, slices.Contains(kindsOf(found), diff.Height), "%c: %+v", code, found)
	}
}

func TestMarksAndSlashesKeepToNoAlignmentRow(t *testing.T) {
	for _, c := range []struct {
		reason string
		code   rune
		aside  bool
	}{
		{"a letter by itself", 'E', false},
		{"its accent is what reaches up", 'É', true},
		{"a horn", 'Ư', true},
		{"a slash that goes on past its letter", 'Ȼ', true},
		{"a sign that is set high", 'ˈ', true},
		{"a cedilla is at the other end", 'Ȩ', false},
		{"a caron at the side may be taller than its letter", 'ď', true},
	} {
		list := strikeOf(box(drawn(letterH), 0, 0, 11, 10, 12))
		for i := range list {
			list[i].Cell.Code = c.code
		}
		_, found := at(300).Set(8000, tenPPEM, list)
		if c.aside {
			require.NotContains(t, kindsOf(found), diff.Height, c.reason)
		} else {
			require.Contains(t, kindsOf(found), diff.Height, c.reason)
		}
	}
}
