package review

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// one is a change whose name is as hostile as a font can make it.
func one(glyph string) harness.Change {
	f := harness.Finding{Face: "text", Device: "label", Size: "8", DPI: "203", Glyph: glyph, Finding: "stem-weight", Severity: "major", Score: 3, Text: "stem 1 px wider"}
	return harness.Change{
		Face: "text", Device: "label", Size: "8", DPI: "203", Mode: "bilevel", Glyph: glyph, Status: "changed", Severity: "major", Score: 3,
		Findings:  []harness.Finding{f},
		Golden:    &harness.Picture{Width: 1, Height: 3, Depth: 1, Advance: 2, Rows: "gICA"},
		Candidate: &harness.Picture{Width: 2, Height: 3, Depth: 1, Advance: 2, Rows: "wMDA"},
	}
}

func results(changes ...harness.Change) *harness.Results {
	r := &harness.Results{
		Header:  harness.Header{Version: 1, Plan: "smokeproof.toml", Gate: "major", Faces: []harness.FaceRecord{{Name: "text", File: "text.ttf"}}},
		Strikes: []harness.StrikeRecord{{Face: "text", Device: "label", Size: "10", DPI: "203", Counts: harness.Counts{Glyphs: 5, Equal: 5}}},
		Changes: changes, Summary: *harness.NewSummary(),
	}
	r.Summary.ByFinding["stem-weight"] = len(changes)
	return r
}

func laidOut(res *harness.Results, around *harness.Surround) *sheet {
	s, err := layOut(GistOf(res), res, around)
	if err != nil {
		panic(err) // results in memory cannot fail to be read
	}
	return s
}

func differences(w io.Writer, res *harness.Results) error {
	return writeDifferences(w, res, laidOut(res, nil).order)
}

func changesOf(changes ...harness.Change) []*harness.Change { return worstFirst(results(changes...)) }

var hostile = "<script>alert(1)</script>|`\x1b[31m\u202e"

func TestHostileNamesStayText(t *testing.T) {
	res := results(one(hostile))
	for name, write := range map[string]func(*bytes.Buffer) error{
		"terminal": func(b *bytes.Buffer) error { return WriteTerminal(b, GistOf(res), "run smokeproof review", false, 200) },
		"markdown": func(b *bytes.Buffer) error { return WriteMarkdown(b, GistOf(res)) },
		"junit":    func(b *bytes.Buffer) error { return WriteJUnit(b, res) },
		"page":     func(b *bytes.Buffer) error { return writePage(b, &laidOut(res, nil).head, onDisk) },
		"text":     func(b *bytes.Buffer) error { return differences(b, res) },
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b), name)
		require.NotContains(t, b.String(), "\x1b", name)
		if name != "terminal" && name != "text" {
			require.NotContains(t, b.String(), "<script>alert", name)
		}
	}
}

func TestArtShowsLostAndGainedInk(t *testing.T) {
	c := one("l")
	require.Equal(t, []string{"#+", "#+", "#+"}, art(&c))
	c.Golden, c.Candidate = c.Candidate, c.Golden
	require.Equal(t, []string{"#-", "#-", "#-"}, art(&c))
}

// A face scaled by another em, or a glyph thrown far, must not fill a disk.
func TestWhatIsTooLargeToShowIsToldInFigures(t *testing.T) {
	far, huge := one("far"), one("huge")
	far.Candidate.Left, far.Candidate.Bottom = 30000, 30000
	huge.Candidate = &harness.Picture{Width: 1 << 13, Height: 1 << 12, Depth: 1, Rows: base64.StdEncoding.EncodeToString(make([]byte, 1<<22))}
	res := results(far, huge)
	require.Equal(t, []string{"(30002 × 30003 pixels: too large to show here)"}, art(&far))
	for name, write := range map[string]func(*bytes.Buffer) error{
		"terminal": func(b *bytes.Buffer) error { return WriteTerminal(b, GistOf(res), "run smokeproof review", false, 100) },
		"markdown": func(b *bytes.Buffer) error { return WriteMarkdown(b, GistOf(res)) },
		"junit":    func(b *bytes.Buffer) error { return WriteJUnit(b, res) },
		"text":     func(b *bytes.Buffer) error { return differences(b, res) },
		"plates":   func(b *bytes.Buffer) error { return laidOut(res, nil).writePlates(b, 0) },
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b), name)
		require.Less(t, b.Len(), 10_000, name)
	}
}

func TestOneCauseIsOneGroup(t *testing.T) {
	a, b := one("l"), one("l")
	b.Size = "10"
	require.Len(t, causes(changesOf(a, b, one("h"))), 2, "a finding of a glyph over two sizes is one cause")
	b.Device = "laser"
	require.Len(t, causes(changesOf(a, b)), 1, "and over two devices")
}

func TestWhatGoesTheOtherWayIsAnotherCause(t *testing.T) {
	at := func(glyph, size, finding string, px float64) harness.Change {
		c := one(glyph)
		c.Size, c.Findings[0].Finding, c.Findings[0].MeasurePx = size, finding, px
		return c
	}
	row := func(c harness.Change, what string) harness.Change {
		c.Findings[0].Place.What = what
		return c
	}
	with := func(c harness.Change, severity string) harness.Change { // an x-height that is lower besides
		c.Severity, c.Findings[0].Severity = severity, severity
		also := c.Findings[0]
		also.Finding, also.MeasurePx, also.Place.What = "height", -1, "x-height"
		c.Findings = append(c.Findings, also)
		return c
	}
	moved := func(glyph, size string, dx, dy int) harness.Change {
		c := at(glyph, size, "moved", float64(dx+dy))
		c.Findings[0].Move = harness.Move{DX: dx, DY: dy}
		return c
	}
	for _, k := range []struct {
		reason  string
		changes []harness.Change
		want    [][]string // glyph and size of each cause's members
	}{
		{"one letter grew where others shrank", []harness.Change{at("n", "8", "height", -1), at("m", "8", "height", -1), at("u", "8", "height", -1), at("s", "8", "height", 1)},
			[][]string{{"n 8", "m 8", "u 8"}, {"s 8"}}},
		{"a changed edge has no direction", []harness.Change{at("n", "8", "edge", -1), at("m", "8", "edge", 2), at("u", "8", "edge", 0)},
			[][]string{{"n 8", "m 8", "u 8"}}},
		{"a row of a strike comes before a glyph's sizes", []harness.Change{at("n", "8", "height", 1), at("m", "8", "height", 1), at("u", "8", "height", 1), at("n", "9", "height", 1), at("n", "10", "height", 1), at("n", "12", "height", 1)},
			[][]string{{"n 8", "m 8", "u 8"}, {"n 9", "n 10", "n 12"}}},
		{"a row of the face is one at all sizes", []harness.Change{row(at("n", "8", "height", 1), "x-height"), row(at("m", "9", "height", 1), "x-height"), row(at("u", "9", "height", 2), "x-height"), row(at("H", "9", "height", 1), "cap-height")},
			[][]string{{"n 8", "m 9", "u 9"}, {"H 9"}}},
		{"rounds go with the flats of their row and strike", []harness.Change{row(at("n", "8", "height", 1), "x-height"), row(at("m", "8", "height", 1), "x-height"), row(at("u", "8", "height", 1), "x-height"), row(at("o", "8", "overshoot", 1), "x-height"), row(at("o", "9", "overshoot", 1), "x-height"), row(at("c", "8", "overshoot", -1), "x-height")},
			[][]string{{"n 8", "m 8", "u 8", "o 8"}, {"o 9"}, {"c 8"}}},
		{"what left the row too stands under it, unless it is graver", []harness.Change{row(at("n", "8", "height", -1), "x-height"), row(at("m", "8", "height", -1), "x-height"), row(at("u", "8", "height", -1), "x-height"), with(at("b", "8", "bar-weight", 1), "major"), with(at("g", "8", "bridge", 1), "critical")},
			[][]string{{"g 8"}, {"n 8", "m 8", "u 8", "b 8"}}},
		{"a part that moved as far goes with it, the other way or aside it does not", []harness.Change{row(at("n", "8", "height", -1), "x-height"), row(at("m", "8", "height", -1), "x-height"), row(at("u", "8", "height", -1), "x-height"),
			moved("e", "8", 0, -1), moved("a", "8", 0, 1), moved("i", "8", -1, 0), moved("c", "9", 0, -1)},
			[][]string{{"n 8", "m 8", "u 8", "e 8"}, {"a 8"}, {"i 8"}, {"c 9"}}},
		{"up and to the right are two matters", []harness.Change{moved("a", "8", 0, 1), moved("b", "8", 0, 1), moved("c", "8", 0, 2), moved("d", "8", 1, 0), moved("e", "8", 1, 0), moved("f", "8", 2, 1)},
			[][]string{{"a 8", "b 8", "c 8"}, {"d 8", "e 8", "f 8"}}},
		{"a mark that moved over many letters is one at all sizes", []harness.Change{row(moved("aacute", "8", 0, 1), "upper accent"), row(moved("eacute", "9", 0, 1), "upper accent"), row(moved("oacute", "10", 0, 2), "upper accent"), row(moved("n", "8", 0, 1), "left stem"), row(moved("m", "8", 0, 1), "left stem")},
			[][]string{{"aacute 8", "eacute 9", "oacute 10"}, {"n 8", "m 8"}}},
		{"and so is one whose end reaches further, or less far", []harness.Change{row(at("aacute", "8", "edge", 1), "upper accent"), row(at("eacute", "9", "edge", 1), "upper accent"), row(at("oacute", "10", "edge", 1), "upper accent"),
			row(at("aacute", "6", "edge", -1), "upper accent"), row(at("eacute", "9", "edge", -1), "upper accent"), row(at("oacute", "12", "edge", -1), "upper accent"), row(at("n", "8", "edge", 1), "edge")},
			[][]string{{"aacute 8", "eacute 9", "oacute 10"}, {"aacute 6", "eacute 9", "oacute 12"}, {"n 8"}}},
		{"over two letters it is none", []harness.Change{row(moved("aacute", "8", 0, 1), "upper accent"), row(moved("eacute", "9", 0, 1), "upper accent")},
			[][]string{{"aacute 8"}, {"eacute 9"}}},
		{"where letters end at no row of the face, in each strike", []harness.Change{row(at("n", "8", "height", 1), "top row"), row(at("m", "8", "height", 1), "top row"), row(at("n", "9", "height", 1), "top row"), row(at("m", "9", "height", 1), "top row"), row(at("u", "9", "height", 1), "top row")},
			[][]string{{"n 9", "m 9", "u 9"}, {"n 8", "m 8"}}},
		{"what is on no line is one cause", []harness.Change{at("n", "8", "edge", 1), at("m", "9", "edge", 1), at("u", "10", "edge", 1)},
			[][]string{{"n 8", "m 9", "u 10"}}},
		{"two alone stay apart", []harness.Change{at("n", "8", "edge", 1), at("m", "9", "edge", 1)}, [][]string{{"n 8"}, {"m 9"}}},
	} {
		var got [][]string
		for _, c := range causes(changesOf(k.changes...)) {
			var members []string
			for _, m := range c.members {
				members = append(members, m.Glyph+" "+m.Size)
			}
			got = append(got, members)
		}
		require.Equal(t, k.want, got, k.reason)
	}
}

func TestManyChangesOfOneKindAreFewCauses(t *testing.T) {
	var cs []harness.Change
	for g := range 40 {
		for s := range 1 + g%7 {
			c := one(fmt.Sprint("g", g))
			c.Size, c.Device = fmt.Sprint(6+s), fmt.Sprint("d", g%5)
			cs = append(cs, c)
		}
	}
	require.LessOrEqual(t, len(causes(changesOf(cs...))), aPart+1)
}

func TestSizesOfACauseAscend(t *testing.T) {
	var cs []harness.Change
	for _, size := range []string{"12", "9", "7.5", "10"} {
		c := one("h")
		c.Size = size
		cs = append(cs, c)
	}
	c := &cause{}
	for i := range cs {
		c.members = append(c.members, &cs[i])
	}
	require.Equal(t, "text, 7.5, 9, 10, 12 pt at 203 dpi", where(c))
	require.Equal(t, "6–24 pt (7 sizes)", sizes([]string{"24", "6", "7", "8", "9", "10", "12"}))
}

func TestJUnitFailsAtTheGateAndPassesBelow(t *testing.T) {
	below := one("h")
	below.Severity = "minor"
	undrawn := one("x")
	undrawn.Status, undrawn.Candidate = "undrawn", nil
	var b bytes.Buffer
	require.NoError(t, WriteJUnit(&b, results(one("l"), below, undrawn)))
	var s junitSuite
	require.NoError(t, xml.Unmarshal(b.Bytes(), &s))
	require.Equal(t, 4, s.Tests, "three changes and one clean strike")
	require.Equal(t, 1, s.Failures)
	require.Equal(t, 1, s.Errors)
}

func TestDecisionsThatCannotBeMeantAreRefused(t *testing.T) {
	for reason, text := range map[string]string{
		"unknown verdict": `{"version":1,"decisions":[{"glyph":"l","verdict":"maybe","why":"x"}]}`,
		"no reason":       `{"version":1,"decisions":[{"glyph":"l","verdict":"approve"}]}`,
		"unknown field":   `{"version":1,"color":"red"}`,
		"later version":   `{"version":2}`,
		"no day":          `{"version":1,"decisions":[{"glyph":"l","verdict":"later","why":"x","until":"soon"}]}`,
	} {
		_, err := ReadDecisions(strings.NewReader(text))
		require.Error(t, err, reason)
	}
}

func TestBundleStandsAlone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "review")
	require.NoError(t, Write(context.Background(), dir, results(one("l")), Options{}))
	page, err := os.ReadFile(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	require.NotContains(t, string(page), "http://")
	require.NotContains(t, string(page), "https://")
	require.NotContains(t, string(page), "{{")
	require.Contains(t, string(page), "default-src 'none'")
	text, err := os.ReadFile(filepath.Join(dir, "differences.txt"))
	require.NoError(t, err)
	require.Contains(t, string(text), "- #\n")
	require.Contains(t, string(text), "+ ##\n")
	_, err = harness.ReadResults(filepath.Join(dir, "results.json"))
	require.NoError(t, err)
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, files, 5, "nothing half-written stays behind")
}

func TestDifferencesHaveGlyphsOfOneSide(t *testing.T) {
	missing, fresh, undrawn := one("gone"), one("fresh"), one("failed")
	missing.Status, missing.Candidate, missing.Findings[0].Text = harness.StatusMissing, nil, "the face has it no more"
	fresh.Status, fresh.Golden, fresh.Findings, fresh.Severity, fresh.Score = harness.StatusNew, nil, nil, "", 0
	undrawn.Status, undrawn.Golden, undrawn.Candidate, undrawn.Findings[0].Text = harness.StatusUndrawn, nil, nil, "no outline"
	for _, c := range []struct {
		reason string
		change harness.Change
		rows   string
	}{
		{"what is gone has the golden's rows", missing, "stem-weight (major): the face has it no more\n- advance 2, left 0, bottom 0\n- #\n- #\n- #\n\n"},
		{"what is new has its own", fresh, "nobody approved this glyph\n+ advance 2, left 0, bottom 0\n+ ##\n+ ##\n+ ##\n\n"},
		{"what was never drawn has none", undrawn, "stem-weight (major): no outline\n\n"},
	} {
		var b bytes.Buffer
		require.NoError(t, differences(&b, results(c.change)))
		require.Equal(t, c.change.Glyph+", text 8 pt 203 dpi label: "+c.rows, b.String(), c.reason)
	}
}

func FuzzReadDecisions(f *testing.F) {
	f.Add(`{"version":1,"by":"Ada","decisions":[{"glyph":"l","verdict":"later","why":"x","until":"2027-01-01"}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ReadDecisions(strings.NewReader(text))
		require.True(t, (d == nil) == (err != nil))
	})
}

func TestALetterAndThoseMadeOfItAreOneCause(t *testing.T) {
	at := func(glyph string, code int, size, what string, score float64) harness.Change {
		c := one(glyph)
		c.Code, c.Size, c.Score, c.Findings[0].Place.What = code, size, score, what
		return c
	}
	n := []harness.Change{at("n", 'n', "8", "right stem", 3), at("n", 'n', "10", "right stem", 4)}
	tilde := []harness.Change{at("ntilde", 'ñ', "8", "right stem", 5), at("ntilde", 'ñ', "10", "right stem", 6)}
	h := []harness.Change{at("h", 'h', "9", "left stem", 10), at("h", 'h', "12", "left stem", 10)}
	list := causes(changesOf(slices.Concat(n, tilde, h)...))
	require.Len(t, list, 2)
	require.Equal(t, "h", which(list[0]))
	require.Equal(t, "n, ntilde", which(list[1]), "the plain letter comes first, though it weighs less")
	require.Equal(t, "10", list[1].worst().Size, "at its worst size")

	left := []harness.Change{at("u", 'u', "8", "left stem", 3), at("u", 'u', "10", "left stem", 4)}
	require.Len(t, causes(changesOf(slices.Concat(n, left)...)), 2, "another stem is another cause")
	require.Len(t, causes(changesOf(n[0], n[1], tilde[0])), 2, "a glyph of fewer strikes stays apart")
	alone, other := n[0], tilde[0]
	other.Findings = slices.Clone(other.Findings)
	require.Len(t, causes(changesOf(alone, other)), 1, "the same place and sentence at a single size")
	other.Findings[0].Place.X0++
	require.Len(t, causes(changesOf(alone, other)), 2, "two in other places may be alike by chance")
}

func TestCausesStandByTheWeightOfAllThatHaveThem(t *testing.T) {
	at := func(glyph, size, finding, severity string, score float64) harness.Change {
		c := one(glyph)
		c.Size, c.Findings[0].Finding, c.Score, c.Severity = size, finding, score, severity
		return c
	}
	many := []harness.Change{at("n", "8", "height", "major", 4), at("n", "9", "height", "major", 4), at("n", "10", "height", "major", 4)}
	heavy := at("h", "8", "stem-weight", "major", 10)
	lead := func(cs ...harness.Change) string { return causes(changesOf(cs...))[0].worst().Glyph }
	require.Equal(t, "n", lead(append(many, heavy)...), "three of 4 outweigh one of 10")
	require.Equal(t, "h", lead(append(many, at("h", "8", "stem-weight", "critical", 1))...), "but none of a graver class")
	scattered := []harness.Change{at("n", "8", "edge", "major", 4), at("m", "9", "edge", "major", 4), at("u", "10", "edge", "major", 4)}
	require.Equal(t, "h", lead(append(scattered, heavy)...), "what is scattered does not add up")
}

func TestGlyphsThatAreGoneAtEverySizeAreOneCause(t *testing.T) {
	var cs []harness.Change
	for _, size := range []string{"8", "10", "12"} {
		for _, glyph := range []string{"florin", "pi", "delta", "sigma", "tau"} {
			c := one(glyph)
			c.Size, c.Status, c.Findings[0].Finding = size, "missing", "missing"
			if glyph == "florin" {
				c.Status = "changed" // drawn, but another drawing
			}
			cs = append(cs, c)
		}
	}
	list := causes(changesOf(cs...))
	require.Len(t, list, 2, "each strike has more of them than each glyph has sizes, and is no cause of its own")
	require.ElementsMatch(t, []int{3, 12}, []int{len(list[0].members), len(list[1].members)}, "what is drawn otherwise is not gone")
}

func TestTheLastLineSaysWhatTheExitStatusDoes(t *testing.T) {
	for exit, want := range map[int]string{
		harness.ExitOK: "passes the gate, major", harness.ExitFindings: "does not pass the gate, major", harness.ExitIncomplete: "the run is incomplete; gate: major",
	} {
		res := results()
		res.Summary.Exit = exit
		var b bytes.Buffer
		require.NoError(t, WriteTerminal(&b, GistOf(res), "run smokeproof review", false, 80))
		lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		require.Len(t, lines, 2, "where nothing is found no line is empty")
		require.Equal(t, want, lines[1])
	}
}

func TestOneDesignInTwoFormatsIsOneCause(t *testing.T) {
	at := func(face, size, digest string) harness.Change {
		c := one("h")
		c.Face, c.Size, c.Digest, c.Over = face, size, digest+size, "was"+size
		return c
	}
	list := causes(changesOf(at("type1", "8", "now"), at("type1", "10", "now"), at("opentype", "8", "now"), at("opentype", "10", "now")))
	require.Len(t, list, 1)
	require.Len(t, list[0].members, 4)
	require.Equal(t, "type1 and opentype, 8, 10 pt at 203 dpi", where(list[0]))
	require.Len(t, causes(changesOf(at("type1", "8", "now"), at("truetype", "8", "else"))), 2, "other bitmaps are another matter")
	require.Len(t, causes(changesOf(at("type1", "8", "now"), at("type1", "10", "now"), at("opentype", "8", "now"))), 2, "and so are fewer sizes")

	var cs []harness.Change
	for _, size := range []string{"6", "7", "8", "9"} {
		cs = append(cs, at("type1", size, "now"), at("opentype", size, "now"))
	}
	cs[1].Digest = "aside"
	require.Len(t, causes(changesOf(cs...)), 1, "a bitmap in four may be another one")
	cs[3].Digest = "aside"
	require.Len(t, causes(changesOf(cs...)), 2, "two in four are two matters")
}
