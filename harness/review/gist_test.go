package review

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// allOver are results of a strike of which n glyphs changed, each with several findings, and of another
// with changes of other kinds.
func allOver(n int) *harness.Results {
	kinds := []string{"break", "stem-weight", "height", "bar-weight", "moved", "edge"}
	change := func(i int, size string) harness.Change {
		c := one(fmt.Sprint("g", i))
		c.Code, c.Index, c.Size, c.Score = 'a'+i, i, size, float64(i*7%11)
		f := c.Findings[0]
		c.Findings = nil
		for k := range 1 + i%3 {
			f.Finding, f.MeasurePx, f.Score = kinds[(i+k)%len(kinds)], float64(1-i%2*2), float64(i*5%7)
			f.Severity, f.Text, f.Place.What = severities[(i+k)%3], fmt.Sprint("stem ", i%5, " px wider"), []string{"x-height", "baseline"}[k%2]
			c.Findings = append(c.Findings, f)
		}
		c.Severity = c.Findings[0].Severity
		c.Digest, c.Over = fmt.Sprint(i, size), fmt.Sprint(i)
		return c
	}
	var cs []harness.Change
	for i := range n {
		cs = append(cs, change(i, "8"))
	}
	cs[1].Verdict, cs[1].DecidedBy = "reject", "Ada"
	for i := range 9 {
		c := change(i, "10")
		switch i {
		case 1, 2:
			c.Status, c.Severity, c.Golden = "new", "", nil
		case 3:
			c.Verdict, c.DecidedBy = "reject", "Ada"
		case 4:
			c.Status, c.Candidate = "missing", nil
		}
		cs = append(cs, c)
	}
	res := results(cs...)
	res.Strikes = []harness.StrikeRecord{
		{Face: "text", Device: "label", Size: "8", DPI: "203", Counts: harness.Counts{Glyphs: n + 2, Changed: n, Equal: 2}},
		{Face: "text", Device: "label", Size: "10", DPI: "203", Counts: harness.Counts{Glyphs: 90, Changed: 6, New: 2, Missing: 1, Equal: 82}},
	}
	res.Summary.Exit = harness.ExitFindings
	return res
}

func TestReportsOfAFileAreThoseOfMemory(t *testing.T) {
	res, dir := allOver(40), t.TempDir()
	require.NoError(t, harness.WriteResults(dir, res))
	read, err := ReadGist(filepath.Join(dir, harness.ResultsName))
	require.NoError(t, err)
	require.Len(t, read.overhauls, 1)
	require.Len(t, read.Changes, 9, "what changed all over is counted and not kept")
	for name, write := range map[string]func(io.Writer, *Gist) error{
		"terminal": func(w io.Writer, g *Gist) error { return WriteTerminal(w, g, "see the page", false, 90) },
		"markdown": WriteMarkdown, "sarif": WriteSARIF,
	} {
		var want, got bytes.Buffer
		require.NoError(t, write(&want, GistOf(res)))
		require.NoError(t, write(&got, read))
		require.Equal(t, want.String(), got.String(), name)
		require.Contains(t, got.String(), "40 of 42 drawings are not as approved", name)
	}
}

// Of a face with more changes than anybody reads one by one, reports tell as of one that changed all over, though
// fewer than three quarters of its glyphs did.
func TestAThrongIsOneEntryOfAReport(t *testing.T) {
	n := harness.MostApart + 1
	for _, c := range []struct{ changes, entries int }{{n, 1}, {100, 0}} {
		res := results(one("l"))
		for i := range c.changes {
			res.Changes = append(res.Changes, res.Changes[0])
			res.Changes[i+1].Glyph = fmt.Sprint(i)
		}
		res.Strikes = []harness.StrikeRecord{{Face: "text", Device: "label", Size: "8", DPI: "203", Counts: harness.Counts{Glyphs: 3 * n, Equal: 2 * n, Changed: c.changes + 1}}}
		require.Len(t, GistOf(res).overhauls, c.entries)
	}
}

func TestACrowdIsToldAsItsMembersWouldBe(t *testing.T) {
	members := worstFirst(allOver(40))
	for _, n := range []int{1, 3, 4, 5, len(members)} {
		var names names
		var list []seen
		for i, c := range members[:n] {
			list = append(list, seen{c, 0, i, names.number(spoken(c))})
		}
		for range 20 {
			all := crowd{order: plainestOfWorst}
			rand.Shuffle(n, func(i, j int) { list[i], list[j] = list[j], list[i] })
			for _, s := range list {
				all.add(s)
				all.add(s)
			}
			is := &cause{members: members[:n]}
			require.Equal(t, n, all.n)
			require.Equal(t, which(is), all.which(is.worst()), "%d members", n)
			require.Equal(t, where(is), all.where())
			plainly := crowd{order: plainest}
			for _, s := range list {
				plainly.add(s)
			}
			names := distinct(slices.SortedStableFunc(slices.Values(is.members), plainest), spoken)
			require.Equal(t, glyph.FirstOf(names), plainly.which(nil))
		}
	}
}

func TestAnOverhaulIsOneResultOfSARIF(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteSARIF(&b, GistOf(allOver(40))))
	type result struct {
		RuleID, Level   string
		OccurrenceCount int
		Message         struct{ Text string }
	}
	var log struct{ Runs []struct{ Results []result } }
	require.NoError(t, json.Unmarshal(b.Bytes(), &log))
	all := log.Runs[0].Results
	i := slices.IndexFunc(all, func(r result) bool { return r.OccurrenceCount == 40 })
	require.Equal(t, 0, i, "it comes first")
	require.Equal(t, "error", all[i].Level)
	require.Contains(t, all[i].Message.Text, "text: drawn otherwise all over; 40 of 42 drawings are not as approved. In text, 8 pt at 203 dpi.")
	require.Contains(t, all[i].Message.Text, "stems")
	require.Greater(t, len(all), 1, "what changed elsewhere has its own")
	require.LessOrEqual(t, len(all), 1+9+1, "and none of the forty has")
}

// Of what changed all over a gist keeps the names of its glyphs, some hundred bytes each; its changes
// have thousands.
func TestMemoryOfAGistHardlyGrowsWithAFaceThatChangedAllOver(t *testing.T) {
	const fewer, more, most = 2000, 8000, 300 // changes, changes, bytes of each
	heap := func(n int) int64 {
		dir := t.TempDir()
		require.NoError(t, harness.WriteResults(dir, allOver(n)))
		g, err := ReadGist(filepath.Join(dir, harness.ResultsName))
		require.NoError(t, err)
		require.Equal(t, n, g.overhauls[0].n)
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(g)
		return int64(m.HeapAlloc)
	}
	heap(fewer) // what is made once
	few, many := heap(fewer), heap(more)
	require.Less(t, (many-few)/(more-fewer), int64(most), "bytes a change")
}

// The bundle of results that stay in their file is that of results in memory, file for file.
func TestABundleOfAFileIsThatOfMemory(t *testing.T) {
	from, far, near := t.TempDir(), t.TempDir(), t.TempDir()
	require.NoError(t, harness.WriteResults(from, allOver(40)))
	path := filepath.Join(from, harness.ResultsName)
	whole, err := harness.ReadResults(path)
	require.NoError(t, err)
	require.NoError(t, Write(t.Context(), near, whole, Options{}))
	brief, err := harness.OpenResults(path)
	require.NoError(t, err)
	require.Empty(t, brief.Changes, "changes stay in the file")
	require.NoError(t, Write(t.Context(), far, brief, Options{}))
	list, err := filepath.Glob(filepath.Join(near, "*"))
	require.NoError(t, err)
	plates, err := filepath.Glob(filepath.Join(near, "data", "*"))
	require.NoError(t, err)
	require.NotEmpty(t, plates)
	for _, file := range append(list, plates...) {
		name, err := filepath.Rel(near, file)
		require.NoError(t, err)
		want, err := os.ReadFile(file)
		if err != nil { // the folder
			continue
		}
		got, err := os.ReadFile(filepath.Join(far, name))
		require.NoError(t, err)
		require.Equal(t, string(want), string(got), name)
	}

	laid := laidOut(brief, nil)
	require.NoError(t, Write(t.Context(), from, brief, Options{}), "beside the results themselves")
	same, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append([]byte("{"), same...), 0o666))
	_, err = brief.At(laid.order[0].spot)
	require.ErrorContains(t, err, "not as check writes them", "another file is there meanwhile")
}
