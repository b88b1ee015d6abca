package review

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

var update = flag.Bool("update", false, "write the golden files of the reports anew")

// manyWays is a run in which each kind of change occurs: a glyph at two sizes, a
// strike of three, one below the gate, one new, gone and undrawn, and a hostile name.
func manyWays() *harness.Results {
	at := func(glyph, size, finding, severity string, score float64) harness.Change {
		c := one(glyph)
		c.Size, c.Severity, c.Score = size, severity, score
		f := &c.Findings[0]
		f.Glyph, f.Size, f.Finding, f.Severity, f.Score = glyph, size, finding, severity, score
		return c
	}
	fresh, gone, undrawn := one("fresh"), at("gone", "8", "missing", "critical", 9), at("undrawn", "8", "undrawn", "critical", 0)
	fresh.Status, fresh.Findings, fresh.Golden, fresh.Severity = "new", nil, nil, ""
	gone.Status, gone.Candidate, gone.Findings[0].Text = "missing", nil, "approved, but the face has it no more"
	undrawn.Status, undrawn.Candidate, undrawn.Findings[0].Text = "undrawn", nil, "not drawn: glyph 7: its program ran 1000000 steps"
	res := results(
		at("l", "8", "stem-weight", "major", 3), at("l", "9", "stem-weight", "major", 2),
		at("n", "10", "height", "major", 5), at("m", "10", "height", "major", 4), at("u", "10", "height", "major", 4),
		at(hostile, "8", "edge", "minor", 1), fresh, gone, undrawn,
	)
	res.Summary = harness.Summary{
		Strikes: 4, Counts: harness.Counts{Glyphs: 40, Equal: 31, Changed: 6, New: 1, Missing: 1, Undrawn: 1}, Exit: harness.ExitIncomplete,
		BySeverity: map[string]int{"critical": 2, "major": 5, "minor": 1},
		ByFinding:  map[string]int{"stem-weight": 2, "height": 3, "edge": 1, "missing": 1, "undrawn": 1},
	}
	return res
}

func TestReportsReadAsApproved(t *testing.T) {
	for name, write := range map[string]func(io.Writer, *harness.Results) error{
		"summary.md": func(w io.Writer, r *harness.Results) error { return WriteMarkdown(w, GistOf(r)) }, "junit.xml": WriteJUnit, "sarif.json": func(w io.Writer, r *harness.Results) error { return WriteSARIF(w, GistOf(r)) },
		"terminal.txt": func(w io.Writer, r *harness.Results) error {
			return WriteTerminal(w, GistOf(r), "run smokeproof review", false, 100)
		},
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b, manyWays()))
		path := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err, "run with -update once, and look at what it wrote")
		require.Equal(t, string(want), b.String(), name)
	}
}

func TestSARIFCallsAnErrorWhatFailsTheCheck(t *testing.T) {
	minor, waiting, fresh, later := one("h"), one("l"), one("e"), one("o")
	minor.Severity, minor.Findings[0].Severity = "minor", "minor"
	waiting.Verdict = "later"
	for _, c := range []*harness.Change{&fresh, &later} {
		c.Status, c.Findings, c.Golden, c.Severity = "new", nil, nil, ""
	}
	later.Verdict = "later"
	for _, k := range []struct {
		reason, gate string
		change       harness.Change
		want         []string
	}{
		{"at the gate", "major", one("n"), []string{"error stem-weight"}},
		{"below it", "critical", one("n"), []string{"warning stem-weight"}},
		{"below it, minor", "major", minor, []string{"warning stem-weight"}},
		{"put off", "major", waiting, []string{"warning stem-weight"}},
		{"not approved", "major", fresh, []string{"error unapproved"}},
		{"not approved, and put off", "major", later, nil},
	} {
		res := results(k.change)
		res.Gate = k.gate
		var b bytes.Buffer
		require.NoError(t, WriteSARIF(&b, GistOf(res)))
		var log struct {
			Runs []struct {
				Results []struct{ Level, RuleID string }
			}
		}
		require.NoError(t, json.Unmarshal(b.Bytes(), &log))
		var got []string
		for _, r := range log.Runs[0].Results {
			got = append(got, r.Level+" "+r.RuleID)
		}
		require.Equal(t, k.want, got, k.reason)
	}
}

func TestSARIFKeepsItsPublishedSchema(t *testing.T) {
	c := jsonschema.NewCompiler()
	schema, err := c.Compile("testdata/sarif-2.1.0.json")
	require.NoError(t, err)
	for reason, res := range map[string]*harness.Results{"every kind of change": manyWays(), "nothing to tell": results()} {
		var b bytes.Buffer
		require.NoError(t, WriteSARIF(&b, GistOf(res)))
		v, err := jsonschema.UnmarshalJSON(&b)
		require.NoError(t, err)
		require.NoError(t, schema.Validate(v), reason)
	}
	bad, err := jsonschema.UnmarshalJSON(strings.NewReader(`{"version":"2.1.0","runs":[{"results":[]}]}`))
	require.NoError(t, err)
	require.Error(t, schema.Validate(bad), "a run without a tool: the schema does hold something")
}

func TestJUnitKeepsItsPublishedSchema(t *testing.T) {
	tool, err := exec.LookPath("xmllint")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("xmllint is missing; install the Debian package libxml2-utils")
		}
		t.Skip("xmllint is missing")
	}
	validate := func(text string) error {
		c := exec.Command(tool, "--noout", "--nonet", "--schema", "testdata/junit-4.xsd", "-")
		c.Stdin = strings.NewReader(text)
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("%w: %s", err, out)
		}
		return nil
	}
	for reason, res := range map[string]*harness.Results{"every kind of change": manyWays(), "nothing to tell": results()} {
		var b bytes.Buffer
		require.NoError(t, WriteJUnit(&b, res))
		require.NoError(t, validate(b.String()), reason)
	}
	require.Error(t, validate(`<testsuite tests="1"/>`), "a suite without a name: the schema does hold something")
}

// TestEveryFindingHasAMeaning reads the names from README's table of findings.
func TestEveryFindingHasAMeaning(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, table, found := strings.Cut(string(readme), "| finding | measured by | minor from | major from | critical from |\n")
	require.True(t, found)
	table, _, _ = strings.Cut(table, "\n\n")
	named := 0
	for _, row := range strings.Split(table, "\n") {
		cell, _, _ := strings.Cut(strings.TrimPrefix(row, "| "), " |")
		for i, word := range strings.Split(cell, "`") {
			if i%2 == 1 {
				named++
				require.NotEmpty(t, meaning[word], word)
			}
		}
	}
	require.GreaterOrEqual(t, named, len(meaning), "README's table names every finding")
}

func TestColourIsForATerminalAlone(t *testing.T) {
	var plain, tinted bytes.Buffer
	require.NoError(t, WriteTerminal(&plain, GistOf(manyWays()), "run smokeproof review", false, 80))
	require.NoError(t, WriteTerminal(&tinted, GistOf(manyWays()), "run smokeproof review", true, 80))
	require.NotContains(t, plain.String(), "\x1b")
	require.Contains(t, tinted.String(), "\x1b[1m")
	for _, line := range strings.Split(strings.SplitN(plain.String(), "\n\n", 2)[0], "\n") {
		require.LessOrEqual(t, len([]rune(line)), 80, "no line of the table wraps")
	}
}

func TestAThousandChangesDoNotScrollTheTerminal(t *testing.T) {
	var cs []harness.Change
	for i := range 1000 {
		cs = append(cs, one(fmt.Sprint("g", i)))
		cs[i].Face = fmt.Sprint("f", i) // each its own cause
	}
	var b bytes.Buffer
	require.NoError(t, WriteTerminal(&b, GistOf(results(cs...)), "run smokeproof review", false, 80))
	require.Less(t, strings.Count(b.String(), "\n"), 60)
	require.Contains(t, b.String(), "and 988 more")
}

func TestWhatGlyphsOfAStrikeHaveAlikeIsToldOnce(t *testing.T) {
	finding := func(glyph, size, text string) harness.Finding {
		return harness.Finding{Face: "text", Device: "label", Size: size, DPI: "203", Glyph: glyph, Finding: "stem-uneven", Severity: "major", Side: harness.SideBoth, Text: text}
	}
	var res harness.Results
	res.Strikes = []harness.StrikeRecord{
		{Set: []harness.Finding{finding("T", "8", "stem is 4 px"), finding("F", "8", "stem is 3 px"), finding("Tbar", "8", "stem is 4 px")}},
		{Set: []harness.Finding{finding("T", "9", "stem is 4 px"), finding("", "9", "stems are thinner"), finding("", "9", "stems are thinner")}},
	}
	var told []string
	for _, c := range setCauses(&res) {
		told = append(told, c.who()+": "+c.Text+", "+c.Size)
	}
	require.Equal(t, []string{"T, Tbar: stem is 4 px, 8", "F: stem is 3 px, 8", "T: stem is 4 px, 9", "all glyphs: stems are thinner, 9", "all glyphs: stems are thinner, 9"}, told)
}

func TestWhatWasSaidOfManyGlyphsInOneWordIsOneLine(t *testing.T) {
	decision := func(glyph, size, verdict, until, why string) harness.Change {
		c := one(glyph)
		c.Size, c.Verdict, c.Until, c.DecidedBy, c.DecidedWhy = size, verdict, until, "Ada\x1b Marsh", why
		return c
	}
	res := results(decision("n", "8", "reject", "", "hints lost"), decision("m", "9", "reject", "", "hints lost"), one("x"),
		decision("n", "10", "later", "2000-01-31", "a sample is due"), decision("n", "11", "reject", "", "the arch"))
	require.Equal(t, []string{
		"n, m in text, 8, 9 pt at 203 dpi: rejected by Ada<U+001B> Marsh: hints lost",
		"n in text, 10 pt at 203 dpi: put off until 2000-01-31 (over) by Ada<U+001B> Marsh: a sample is due",
		"n in text, 11 pt at 203 dpi: rejected by Ada<U+001B> Marsh: the arch",
	}, GistOf(res).decided())
}
