package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// run runs the command in this process, as its main does.
func run(args ...string) (status int, stdout, stderr string) {
	var out, err bytes.Buffer
	status = command(args, &out, &err)
	return status, out.String(), err.String()
}

func TestWhatIsBrokenOffSaysSo(t *testing.T) {
	ctx, broken := context.WithCancel(t.Context())
	broken()
	font, err := filepath.Abs("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	for _, args := range [][]string{{"look", font}, {"draw", "--font", font, "--size", "8"}} {
		var said bytes.Buffer
		i := slices.IndexFunc(verbs, func(v verb) bool { return v.name == args[0] })
		require.Equal(t, harness.ExitIncomplete, runVerb(ctx, &verbs[i], args[1:], io.Discard, &said))
		require.Regexp(t, `^smokeproof `+args[0]+`: interrupted[; ]`, said.String())
	}
}

func TestEveryVerbShowsItsFlagsAndAnExample(t *testing.T) {
	for _, v := range verbs {
		status, out, err := run(v.name, "--help")
		require.Equal(t, harness.ExitOK, status, v.name)
		require.Empty(t, err, v.name)
		require.True(t, strings.HasPrefix(out, v.does+"\n\nusage: smokeproof "+v.name+" "), out)
		require.Regexp(t, `\nexample:\n  (EDITOR=vi )?smokeproof `+v.name, out)
		require.Regexp(t, `\n  --[a-z]`, out, v.name)
		require.NotRegexp(t, `\n  --[a-z-]+ (string|strings|int|float)\b`, out, "%s: a flag's value has a name of the trade, not of Go", v.name)
	}
	for _, all := range []string{"help", "--help", "-h"} {
		status, out, _ := run(all)
		require.Equal(t, harness.ExitOK, status, all)
		for _, v := range verbs {
			require.Contains(t, out, "\n  "+v.name+" ", all)
		}
	}
}

const usagePlan = `
[[face]]
name = "text"
file = "larkmoor-text-a.ttf"
glyphs = "H,e"
[[device]]
name = "label"
dpi = 203
sizes = [6, 8]
[[device]]
name = "worker"
dpi = 203
renderer = "process"
command = ["./worker"]
sizes = [9]
`

func TestAMissingFreeTypeWorkerIsToldWithWhatBuildsIt(t *testing.T) {
	plan := strings.Replace(usagePlan, `"process"
command = ["./worker"]`, `"freetype"`, 1)
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("larkmoor-text-a.ttf", font, 0o666))
	require.NoError(t, os.WriteFile(harness.PlanName, []byte(plan), 0o666))
	t.Setenv("PATH", "")
	status, _, said := run("draw", "--device", "worker")
	require.Equal(t, harness.ExitUsage, status)
	require.Equal(t, "smokeproof draw: device \"worker\": unusable input: smokeproof-freetype is not on the PATH; make freetype builds it\n", said)
}

func TestWrongUsageIsToldInOneLineAndChangesNothing(t *testing.T) {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("larkmoor-text-a.ttf", font, 0o666))
	require.NoError(t, os.WriteFile(harness.PlanName, []byte(usagePlan), 0o666))
	require.NoError(t, os.WriteFile("text.json", []byte("all is well"), 0o666))
	for _, name := range []string{"8.bdf", "9.bdf"} {
		status, _, said := run("draw", "--font", "larkmoor-text-a.ttf", "--size", name[:1], "--dpi", "203", "--format", "bdf", "--glyphs", "H", "--out", name)
		require.Equal(t, harness.ExitOK, status, said)
	}
	t.Setenv("HOME", t.TempDir()) // where git knows nobody
	t.Setenv("GIT_CONFIG_NOSYSTEM", "1")
	t.Setenv("VISUAL", "")
	t.Setenv("EDITOR", "")
	before := listing(t)
	for _, c := range []struct{ args, says, reason string }{
		{"check --colour", "unknown flag: --colour; see smokeproof check --help", "no flag is ignored"},
		{"check out", `"out" is not a flag`, "nor is a word"},
		{"check --device labels", `the plan has no device "labels"`, "a device misspelt"},
		{"check --size 7", "the plan has no size 7 pt", "a size of no device"},
		{"check --glyphs #x", `--glyphs: glyph selection "#x" is no index`, "a selection that cannot be read"},
		{"check --audit 101 --device label", "--audit 101 is out of range", "more than all"},
		{"check --audit nan --device label", "--audit NaN is out of range", "no number at all, which is neither below nor above"},
		{"check --audit 5 --no-cache", "nothing to audit", "two flags of which one would do nothing"},
		{"check --set --shard 1/2", "--set needs all sizes of a device in one run", "a set is never whole in a shard"},
		{"check --no-process", `device "worker": unusable input: its renderer is a process and --no-process forbids those`, "the plan of a stranger runs nothing"},
		{"draw --no-process", "--no-process forbids those", "nor when it is drawn"},
		{"approve --why seen --by Ada --also major", `--also "major" is unknown`, "critical is the only word"},
		{"approve --why seen --by Ada --put-off --until tomorrow --glyphs H", `--until "tomorrow" is no day`, "an end date must be one"},
		{"approve --why seen --by Ada --until 2027-01-31", "--until goes with --put-off or --reject", "an approval does not end"},
		{"approve --why seen --by Ada --reject", "say --glyphs", "not all at once"},
		{"approve --why seen --by Ada --stored --gone", "--gone and --stored do not go together", "two deeds at once"},
		{"approve --why seen --device label", "nobody is named as approving", "an approval without a person"},
		{"approve --decisions none.json --by Ada", "decisions: open none.json", "decisions that are not there"},
		{"approve --decisions text.json --by Ada", "text.json: ", "decisions that are none"},
		{"compare 8.bdf 9.bdf", "the fonts are two strikes, 8 pt 203 dpi and 9 pt 203 dpi", "like with like"},
		{"compare 8.bdf 8.bdf --distance 0", "reading distance 0 mm is out of range", "an eye on the paper"},
		{"compare 8.bdf 8.bdf --distance nan", "reading distance NaN mm is out of range", "from there nothing would be seen, and all pass"},
		{"compare 8.bdf 8.bdf --distance 1e9", "reading distance 1e+09 mm is out of range", "so it would from another continent"},
		{"compare 8.bdf 8.bdf --gate bad", `--gate: severity "bad" is unknown; use trace, minor, major, critical`, "a gate is a severity"},
		{"compare 8.bdf 8.bdf --glyphs A,,B", "--glyphs: glyph selection has an empty part", "as everywhere"},
		{"compare 8.bdf 8.bdf --weights e", `glyph "e" is not in both fonts`, "weights of a pair that is none"},
		{"compare 8.bdf 8.bdf --font none.ttf", "none.ttf", "an outline font that is not there"},
		{"compare 8.bdf 8.bdf --index 1", "--index goes with --font", "it would do nothing"},
		{"compare 8.bdf none.bdf", "none.bdf", "a font that is not there"},
		{"draw --device label --dpi 600", "--dpi goes with --font", "a plan's device has its own, and would be drawn at that one"},
		{"draw --device label --fill touch", "--fill goes with --font", "likewise"},
		{"draw --font larkmoor-text-a.ttf", "no size; say --size 8", "no size is taken for granted"},
		{"draw --font larkmoor-text-a.ttf --size 8 --dpi x", "resolution", "a resolution is a number"},
		{"draw --font larkmoor-text-a.ttf --size 8 --mode red", `mode "red" is unknown; use bilevel, grey`, "a mode is one of two"},
		{"draw --font larkmoor-text-a.ttf --size 8 --fill round", `fill rule "round" is unknown; use center, inside, touch, majority`, "a fill rule is one of four"},
		{"draw --font larkmoor-text-a.ttf --size 8 --glyphs H --out none/h.txt", "none/h.txt", "what cannot be written is not drawn for nothing"},
		{"draw --font larkmoor-text-a.ttf --size 8 --glyphs H --why e", "--why names the glyphs itself", "two selections"},
		{"draw --font larkmoor-text-a.ttf --size 8 --format png", "format png takes one glyph, 87 are selected", "a picture holds one"},
		{"draw --device label --format bdf", "format bdf takes one strike", "a font holds one size"},
		{"export --format tiff", `--format: format "tiff" is unknown; use bdf, xbdf, art, pbm, png`, "a format that is none of ours"},
		{"export --device label", "there are no goldens of what was selected", "an empty export is no success"},
		{"import", "no file named", "nothing to import"},
		{"import 8.bdf --names none.txt", "--names: open none.txt", "names that are not there"},
		{"init", "no font file named", "a plan over nothing"},
		{"init larkmoor-text-a.ttf", "smokeproof.toml exists", "no plan is written over"},
		{"look larkmoor-text-a.ttf --dpi x", "--dpi: ", "a resolution is a number"},
		{"look --dpi 300", "--dpi goes with a font", "a plan's devices have theirs"},
		{"look --index 1", "--index goes with a font", "a plan's faces have theirs"},
		{"retouch", "no editor: set EDITOR", "nothing to change it with"},
		{"review", "run check first", "nothing to review"},
		{"review --proof --serve", "--proof goes without --serve", "paper is not served"},
		{"review --paper a4", "--paper with --proof", "it would do nothing"},
		{"review --watch", "need --serve", "it would do nothing"},
		{"review --by Ada", "need --serve", "nobody decides on a page from disk"},
		{"review --since v1 --serve", "--since goes neither with", "decisions are on what is approved now"},
		{"verify golden", `"golden" is not a flag`, "the plan names the folder"},
		{"gather none", "none", "a folder that is not there"},
	} {
		status, out, said := run(strings.Fields(c.args)...)
		want := harness.ExitUsage
		if strings.HasPrefix(c.args, "gather ") {
			want = harness.ExitIncomplete // a part that has not come is work left to do
		}
		require.Equal(t, want, status, "%s (%s): %s", c.args, c.reason, said)
		require.Contains(t, said, c.says, c.reason)
		require.Equal(t, 1, strings.Count(said, "\n"), "%s: one line: %s", c.args, said)
		require.True(t, strings.HasPrefix(said, "smokeproof "+strings.Fields(c.args)[0]+": "), said)
		require.NotContains(t, out, "passes the gate", c.args)
		require.Equal(t, before, listing(t), "%s: nothing is written", c.args)
	}
}

func TestAReportThatCannotBeWrittenFailsTheCheck(t *testing.T) {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	require.NoError(t, os.WriteFile("larkmoor-text-a.ttf", font, 0o666))
	require.NoError(t, os.WriteFile(harness.PlanName, []byte(usagePlan), 0o666))
	status, _, said := run("approve", "--by", "Ada", "--why", "seen", "--device", "label")
	require.Equal(t, harness.ExitOK, status, said)
	for _, report := range []string{"--junit", "--markdown", "--sarif"} {
		status, out, said := run("check", "--device", "label", report, "larkmoor-text-a.ttf/report")
		require.Equal(t, harness.ExitUsage, status, report)
		require.Contains(t, said, "larkmoor-text-a.ttf", report)
		require.NotContains(t, out, "passes the gate", "CI would look for the report in vain")
	}
	status, _, said = run("check", "--device", "label", "--out", "larkmoor-text-a.ttf/out")
	require.NotEqual(t, harness.ExitOK, status)
	require.Contains(t, said, "name a folder with --out")
}

// git bisect run takes 0 for good, 1 to 124 for bad and 125 for a commit to be skipped
// (git-bisect(1)).
func TestBisectSkipsWhatCannotBeJudgedAndNothingElse(t *testing.T) {
	fonts := map[string][]byte{}
	for _, name := range []string{"a", "b"} {
		data, err := os.ReadFile("../../fixtures/larkmoor-text-" + name + ".ttf")
		require.NoError(t, err)
		fonts[name] = data
	}
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	const plan = "[[face]]\nname = \"text\"\nfile = \"text.ttf\"\n[[device]]\nname = \"label\"\ndpi = 203\nsizes = [8]\n"
	const failing = "[[device]]\nname = \"worker\"\ndpi = 300\nrenderer = \"process\"\ncommand = [\"false\", \"{font}\"]\nsizes = [8]\n"
	require.NoError(t, os.WriteFile(harness.PlanName, []byte(plan), 0o666))
	require.NoError(t, os.WriteFile("text.ttf", fonts["a"], 0o666))
	status, _, said := run("approve", "--by", "Ada", "--why", "first set", "--quiet")
	require.Equal(t, harness.ExitOK, status, said)
	for _, c := range []struct {
		reason         string
		font           []byte
		plan           string
		status, bisect int
	}{
		{"as approved: good", fonts["a"], plan, 0, 0},
		{"a fault: bad", fonts["b"], plan, 1, 1},
		{"a glyph that cannot be drawn", fonts["a"], plan + failing, 3, 125},
		{"no font", fonts["a"][:40], plan, 2, 125},
		{"no plan", fonts["a"], "[[", 2, 125},
	} {
		require.NoError(t, os.WriteFile(harness.PlanName, []byte(c.plan), 0o666))
		require.NoError(t, os.WriteFile("text.ttf", c.font, 0o666))
		status, _, said := run("check", "--quiet")
		require.Equal(t, c.status, status, "%s: %s", c.reason, said)
		status, _, said = run("check", "--quiet", "--bisect")
		require.Equal(t, c.bisect, status, "%s: %s", c.reason, said)
	}
}

func TestQuietVerbsSayNothingAndJSONStandsAlone(t *testing.T) {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	require.NoError(t, os.WriteFile("text.ttf", font, 0o666))
	for _, c := range []struct {
		args   string
		status int
	}{
		{"init text.ttf", 0},
		{"plan --device label --size 8", 0},
		{"approve --device label --size 8 --by Ada --why seen", 0},
		{"check --device label --size 8", 0},
		{"check --device label --size 6 --glyphs H", 1},
		{"verify", 0},
		{"export --device label --size 8 --out 8.bdf", 0},
		{"import 8.bdf --device label --size 8", 1}, // hinted advances are a pixel off some of the face's own
		{"compare 8.bdf 8.bdf", 0},
		{"review", 0},
		{"review --proof", 0},
		{"look text.ttf --dpi 203 --size 8 --glyphs H", 0},
		{"check --device label --size 8 --shard 1/1", 0},
		{"gather out/1-of-1", 0},
	} {
		status, out, said := run(append(strings.Fields(c.args), "--quiet")...)
		require.Equal(t, c.status, status, "%s: %s", c.args, said)
		require.Empty(t, out+said, c.args)
	}
	for _, c := range []struct{ args, has string }{
		{"plan", "strikes"}, {"verify", "problems"}, {"import 8.bdf --device label --size 8 --glyphs H", "strikes"}, {"compare 8.bdf 8.bdf", "findings"},
		{"check --device label --size 8", "findings"}, {"gather out/1-of-1", "findings"}, {"look text.ttf --dpi 203 --size 8 --glyphs H", "summary"},
	} {
		status, out, said := run(append(strings.Fields(c.args), "--json")...)
		require.Equal(t, harness.ExitOK, status, "%s: %s", c.args, said)
		require.Empty(t, said, c.args)
		var whole map[string]json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(out), &whole), "%s: %s", c.args, out)
		require.Contains(t, whole, c.has, c.args)
		require.NotEqual(t, "null", string(whole[c.has]), "%s: none is an empty list", c.args)
	}
}

// listing names every file below this folder.
func listing(t *testing.T) []string {
	t.Helper()
	var files []string
	require.NoError(t, filepath.WalkDir(".", func(path string, _ os.DirEntry, err error) error {
		files = append(files, path)
		return err
	}))
	return files
}
