package review

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

func overhauls(res *harness.Results) ([]*overhaul, []*harness.Change) {
	g := GistOf(res)
	return g.overhauls, g.rest
}

// letters are n changes of one strike, of glyphs a, b, c….
func letters(n int, spoil func(i int, c *harness.Change)) []harness.Change {
	var cs []harness.Change
	for i := range n {
		c := one(string(rune('a' + i)))
		c.Code = 'a' + i
		spoil(i, &c)
		cs = append(cs, c)
	}
	return cs
}

// strikeOfTwenty are results of a strike of twenty glyphs, so many of them changed.
func strikeOfTwenty(cs []harness.Change) *harness.Results {
	res := results(cs...)
	res.Strikes = []harness.StrikeRecord{{Face: "text", Device: "label", Size: "8", DPI: "203", Counts: harness.Counts{Glyphs: 20, Changed: len(cs), Equal: 20 - len(cs)}}}
	return res
}

func TestAFaceThatChangedAllOverIsToldAsOne(t *testing.T) {
	plainly := func(_ int, c *harness.Change) { c.Findings[0].MeasurePx = 1 }
	thinner := func(n int) func(int, *harness.Change) { // the first n of them
		return func(i int, c *harness.Change) { c.Findings[0].MeasurePx = choose(i < n, -1.0, 1) }
	}
	bare := func(_ int, c *harness.Change) { c.Bare = true }
	noted := func(_ int, c *harness.Change) { c.Bare, c.Note = true, "drawn without hints: prep program: byte 7" }
	for _, c := range []struct {
		reason string
		n      int
		spoil  func(int, *harness.Change)
		text   string // "" for none
	}{
		{"fifteen of twenty glyphs", 15, plainly, "text: stems thicker all over; 15 of 20 drawings are not as approved"},
		{"a quarter the other way", 20, thinner(5), "text: stems thicker all over; 20 of 20 drawings are not as approved"},
		{"more than a quarter", 20, thinner(6), "text: drawn otherwise all over; 20 of 20 drawings are not as approved"},
		{"nearly all have a sign without a way", 20, func(i int, c *harness.Change) { c.Findings[0].Finding = choose(i < 15, "bridge", "edge") }, "text: strokes run together all over; 20 of 20 drawings are not as approved"},
		{"rows are told by their way", 20, func(_ int, c *harness.Change) {
			f := &c.Findings[0]
			f.Finding, f.Place.What, f.MeasurePx = "height", "x-height", -1
		}, "text: x-height lower all over; 20 of 20 drawings are not as approved"},
		{"all upside down, as by a renderer under development", 20, func(_ int, c *harness.Change) {
			c.Findings[0].Finding, c.Findings[0].Place.What = "missing", "whole glyph"
		}, "text: glyphs of another shape all over; 20 of 20 drawings are not as approved"},
		{"all without ink", 20, func(_ int, c *harness.Change) {
			c.Findings[0].Finding, c.Findings[0].Place.What, c.Candidate = "missing", "whole glyph", &harness.Picture{Depth: 1}
		}, "text: glyphs without their ink all over; 20 of 20 drawings are not as approved"},
		{"fourteen are changes of their own", 14, plainly, ""},
		{"each as its outline is", 20, bare, "text: drawn unhinted: there are no hints, or they do nothing; 20 of 20 drawings are not as approved"},
		{"and the renderer said why", 16, noted,
			"text: drawn without hints: prep program: byte 7; 16 of 20 drawings are not as approved"},
		{"two things befell them", 20, func(i int, c *harness.Change) { c.Note = choose(i < 11, "prep is gone", "the advance is 1 unit wider") },
			"text: prep is gone (11); the advance is 1 unit wider (9); 20 of 20 drawings are not as approved"},
		{"five things did", 20, func(i int, c *harness.Change) { c.Note = string(rune('a' + i%5)); c.Findings[0].MeasurePx = 1 }, "text: stems thicker all over; 20 of 20 drawings are not as approved"},
		{"half of them as their outline is", 20, func(i int, c *harness.Change) { c.Bare = i%2 == 0; c.Findings[0].Finding = "edge" }, "text: drawn otherwise all over; 20 of 20 drawings are not as approved"},
	} {
		res := strikeOfTwenty(letters(c.n, c.spoil))
		list, rest := overhauls(res)
		if c.text == "" {
			require.Empty(t, list, c.reason)
			require.Len(t, rest, c.n, c.reason)
			continue
		}
		require.Len(t, list, 1, c.reason)
		require.Equal(t, c.text, list[0].text(&harness.Header{}), c.reason)
		require.Empty(t, rest, "%s: its changes are no causes besides", c.reason)
	}
}

func TestAStrikeOfFewGlyphsOrAnotherOneIsNoOverhaul(t *testing.T) {
	few := strikeOfTwenty(letters(11, func(int, *harness.Change) {}))
	few.Strikes[0].Glyphs = 11
	list, rest := overhauls(few)
	require.Empty(t, list, "eleven glyphs may all have one cause")
	require.Len(t, rest, 11)

	other := strikeOfTwenty(letters(16, func(i int, c *harness.Change) {
		if i == 0 {
			c.Size = "10"
		}
	}))
	list, rest = overhauls(other)
	require.Len(t, list, 1)
	require.Len(t, rest, 1, "a change of another strike keeps its own cause")

	gone := strikeOfTwenty(letters(16, func(i int, c *harness.Change) {
		if i == 0 {
			c.Status = "missing"
		}
	}))
	list, rest = overhauls(gone)
	require.Len(t, list, 1)
	require.Equal(t, 15, list[0].n)
	require.Len(t, rest, 1, "a glyph that the face has no more is its own cause")
}

func TestWhatIsRemarkedOfManyGlyphsIsToldAsOne(t *testing.T) {
	const lost = "prep is gone"
	noted := func(n int) *harness.Results {
		res := strikeOfTwenty(letters(14, func(i int, c *harness.Change) {
			c.Findings[0].Finding = choose(i%2 == 0, "stem-weight", "moved")
			c.Note = choose(i < n, lost, "")
		}))
		res.Strikes[0].Glyphs = 200
		return res
	}
	list, rest := overhauls(noted(12))
	require.Len(t, list, 1, "twelve glyphs, though the others of the strike are as they were")
	require.Equal(t, "text: prep is gone; 12 of 200 drawings are not as approved", list[0].text(&harness.Header{}))
	require.Len(t, rest, 2, "what changed for other reasons has its own cause")
	list, rest = overhauls(noted(11))
	require.Empty(t, list, "eleven are read as a list")
	require.Len(t, rest, 14)

	looked := noted(14)
	looked.Looked = true
	for i := range looked.Changes {
		looked.Changes[i].Status = harness.StatusLooked
	}
	list, _ = overhauls(looked)
	require.Len(t, list, 1)
	require.Equal(t, "text: 14 of 200 drawings are at fault by their own outlines, all of them: prep is gone", list[0].text(&harness.Header{Looked: true}))
}

func TestAFaceWithTooManyFaultsToListIsToldByWhatShows(t *testing.T) {
	causesOf := func(n int) *harness.Results {
		res := strikeOfTwenty(letters(n, func(i int, c *harness.Change) {
			c.Status, c.Size = "looked", fmt.Sprint(8+i%2) // of two strikes, each its own fault
			c.Findings[0].Place.What, c.Bare = fmt.Sprint(i), i == 0
			c.Findings[0].Finding = []string{"bridge", "break", "missing", "counter-closed", "edge", "stem-uneven", "serif-uneven", "stem-lost", "bar-lost", "round", "diagonal", "extra", "bar-weight"}[i]
		}))
		res.Looked = true
		res.Strikes = append(res.Strikes, res.Strikes[0])
		res.Strikes[1].Size = "9"
		return res
	}
	few := causesOf(12)
	list, rest := overhauls(few)
	require.Empty(t, list, "a list of twelve is read")
	require.Len(t, rest, 12)
	list, rest = overhauls(causesOf(13))
	require.Len(t, list, 1)
	require.Empty(t, rest)
	require.Equal(t, "text: 13 of 40 drawings are at fault by their own outlines", list[0].text(&harness.Header{Looked: true}))
}

func TestAnOverhaulTellsWhatShowsOfIt(t *testing.T) {
	res := strikeOfTwenty(letters(20, func(i int, c *harness.Change) {
		f := &c.Findings[0]
		f.MeasurePx = 1
		switch {
		case i < 3:
			f.Finding, f.Severity = "break", "critical"
		case i < 7:
			f.Finding, f.MeasurePx, f.Place.What = "height", -1, "x-height"
		case i < 12:
			f.MeasurePx = -1
		case i == 12:
			f.Finding = "bar-lost"
		case i == 15:
			f.Finding, f.Severity = "bridge", "critical"
		case i == 13:
			f.Finding, f.Place.What = "height", "top row"
		case i == 14:
			f.Severity = "minor"
		}
	}))
	list, _ := overhauls(res)
	require.Len(t, list, 1)
	var told []string
	for _, s := range list[0].signs {
		told = append(told, fmt.Sprint(s.n, " ", list[0].line(s)))
	}
	require.Equal(t, []string{
		"3 strokes parted: a, b, c",
		"1 strokes run together: p",
		"9 stems (5 thinner, 4 thicker): h, i, j and 6 more",
		"4 alignment rows (4 x-height lower at 8 pt): d, e, f, g",
	}, told, "gravest and most first; what fewer than three have and is not critical, what is minor and rows of no name are left out")

	var b bytes.Buffer
	require.NoError(t, WriteTerminal(&b, GistOf(res), "run smokeproof review", false, 100))
	require.Contains(t, b.String(), "\n              9  stems (5 thinner, 4 thicker)")
	require.Contains(t, b.String(), "\na, text 8 pt 203 dpi label: stem 1 px wider\n", "with a picture of what shows")
	b.Reset()
	require.NoError(t, WriteMarkdown(&b, GistOf(res)))
	require.Contains(t, b.String(), "\n- 9 stems ")
}

func TestThePictureOfASymptomIsOfTheGravestFindingOfTheMostFamiliarLetter(t *testing.T) {
	type letter struct {
		glyph, severity string
		code            int
		score           float64
	}
	for _, c := range []struct {
		reason string
		seen   []letter
		want   string
	}{
		{"a letter before a sign that scores more", []letter{{"sun", "critical", 0x2600, 9}, {"n", "critical", 'n', 2}, {"m", "critical", 'm', 3}}, "m"},
		{"a sign that is critical before a letter that is not", []letter{{"percent", "critical", '%', 1}, {"m", "major", 'm', 3}, {"x", "major", 'x', 3}}, "percent"},
		{"a sign on every keyboard before one on none, and that before a glyph without a code",
			[]letter{{"part", "critical", -1, 9}, {"sun", "critical", 0x2600, 3}, {"percent", "critical", '%', 2}}, "percent"},
	} {
		o := newOverhaul("text")
		for i, s := range c.seen {
			ch := one(s.glyph)
			ch.Code = s.code
			f := &ch.Findings[0]
			f.Finding, f.Severity, f.Score = "break", s.severity, s.score
			o.add(seen{change: &ch, at: i, name: i}, true)
		}
		o.signs = o.symptoms()
		list := o.pictured()
		require.Len(t, list, 1, c.reason)
		require.Equal(t, c.want, list[0].change.Glyph, c.reason)
	}
}

func TestManyFacesThatChangedAllOverDoNotScrollTheTerminal(t *testing.T) {
	var cs []harness.Change
	var strikes []harness.StrikeRecord
	for n := range 60 {
		face := fmt.Sprint("f", n)
		cs = append(cs, letters(12, func(_ int, c *harness.Change) { c.Face = face })...)
		strikes = append(strikes, harness.StrikeRecord{Face: face, Device: "label", Size: "8", DPI: "203", Counts: harness.Counts{Glyphs: 12, Changed: 12}})
	}
	res := results(cs...)
	res.Strikes = strikes
	var b bytes.Buffer
	require.NoError(t, WriteTerminal(&b, GistOf(res), "run smokeproof review", false, 80))
	require.Less(t, strings.Count(b.String(), "\n"), 70)
	require.Contains(t, b.String(), "and 48 more")
	b.Reset()
	require.NoError(t, WriteMarkdown(&b, GistOf(res)))
	require.Contains(t, b.String(), "and 50 more faces all over")
}

func TestThePageTellsOfAnOverhaul(t *testing.T) {
	h := laidOut(strikeOfTwenty(letters(15, func(_ int, c *harness.Change) { c.Findings[0].MeasurePx = 1 })), nil).head
	require.Equal(t, []overhaulText{{
		Text: "text: stems thicker all over; 15 of 20 drawings are not as approved", Where: "text, 8 pt at 203 dpi",
		Signs: []string{"15 stems (15 thicker): a, b, c and 12 more"},
	}}, h.Overhauls)
}

func TestWhatHasOneReasonIsOneCauseAndSaysIt(t *testing.T) {
	const bare = "drawn unhinted: there are no hints, or they do nothing"
	at := func(glyph, size, finding, note string, bare bool) harness.Change {
		c := one(glyph)
		c.Size, c.Findings[0].Finding, c.Note, c.Bare = size, finding, note, bare
		return c
	}
	for _, c := range []struct {
		reason  string
		changes []harness.Change
		want    []string
	}{
		{"a remark of both", []harness.Change{at("l", "8", "edge", "its hints stop", false), at("l", "10", "edge", "its hints stop", false)},
			[]string{"l: stem 1 px wider; its hints stop"}},
		{"of one", []harness.Change{at("l", "8", "edge", "its hints stop", false), at("l", "10", "edge", "", false)},
			[]string{"l: stem 1 px wider; its hints stop", "l: stem 1 px wider"}},
		{"of glyphs that share neither size nor finding", []harness.Change{at("z", "8", "edge", "prep failed", true), at("a", "10", "moved", "prep failed", true), at("a", "12", "edge", "prep failed", true)},
			[]string{"z, a: stem 1 px wider; prep failed"}},
		{"a letter that lost its hints, whatever shows at each size, and those made of it",
			[]harness.Change{at("n", "8", "edge", "", true), at("n", "10", "stem-weight", "", true), at("ntilde", "8", "moved", "", true), at("ntilde", "10", "edge", "", true)},
			[]string{"n, ntilde: stem 1 px wider; " + bare}},
		{"beside one that kept them", []harness.Change{at("n", "8", "edge", "", true), at("n", "10", "edge", "", true), at("h", "8", "edge", "", false), at("h", "10", "edge", "", false)},
			[]string{"n: stem 1 px wider; " + bare, "h: stem 1 px wider"}},
	} {
		var got []string
		for _, g := range causes(changesOf(c.changes...)) {
			got = append(got, which(g)+": "+what(g))
		}
		require.Equal(t, c.want, got, c.reason)
	}
	short := func(c harness.Change) string { return laidOut(results(c), nil).head.Causes[0].Text }
	require.Equal(t, "drawn without hints", short(at("n", "8", "edge", "drawn without hints: prep program: byte 7", true)), "a row of the page has room for its beginning")
	looked := at("n", "8", "edge", "", true)
	looked.Status = "looked"
	require.Equal(t, "stem 1 px wider", short(looked), "of a font that is looked at the fault is asked for")
	var plates bytes.Buffer
	require.NoError(t, laidOut(results(at("n", "8", "edge", "", true)), nil).writePlates(&plates, 0))
	require.Contains(t, plates.String(), `"r":"`+bare+`"`, "and it is said under the loupe")
}

// Of a font without hints every drawing is unhinted, and each fault is one of its own all the same.
func TestWithoutHintsFaultsThatAreLookedAtStayApart(t *testing.T) {
	for status, want := range map[harness.Status]int{harness.StatusLooked: 2, harness.StatusChanged: 1} {
		a, b := one("h"), one("h")
		a.Findings[0].Finding, b.Findings[0].Finding, b.Size = "bridge", "break", "9"
		a.Status, b.Status, a.Bare, b.Bare = status, status, true, true
		list := causes(changesOf(a, b))
		require.Len(t, list, want, status)
		require.Contains(t, what(list[0]), unhinted, status)
	}
}
