package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// TestPageDecidesOnWhatWasNotDrawn puts off, with an end, what a renderer that fails
// left undrawn; approving it does nothing.
func TestPageDecidesOnWhatWasNotDrawn(t *testing.T) {
	dir, plan := larkmoor(t)
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	broken := strings.Replace(string(text), `renderer = "built-in"`, `renderer = "process"`+"\n"+`command = ["false", "{font}", "{size}", "{dpi}"]`, 1)
	require.NotEqual(t, string(text), broken)
	require.NoError(t, os.WriteFile(plan, []byte(broken), 0o666))
	check := []string{"check", "--plan", plan, "--device", "label", "--size", "8", "--glyphs", "a,e,h", "--quiet"}
	require.Equal(t, 3, smokeproof(t, check...))
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.downloads(dir)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	require.Equal(t, 3, ask[int](r, `changes.filter(c => c.status === "undrawn").length`))
	r.tell(`byId("why").value = "the renderer is being mended"; byId("until").value = "2999-12-31"`)
	r.press("2", "a")
	require.Contains(t, ask[string](r, `byId("said").textContent`), "cannot be approved")
	require.Zero(t, ask[int](r, `decided.size`))
	r.picture("undrawn")
	r.press("l")
	require.Equal(t, 3, ask[int](r, `changes.filter(c => verdictOf(c) && verdictOf(c).until === "2999-12-31").length`))
	r.press("s")
	saved := savedFile(t, filepath.Join(dir, "decisions.json"))
	r.quiet()
	require.Equal(t, 0, smokeproof(t, "approve", "--plan", plan, "--by", "Ada Marsh", "--decisions", saved, "--quiet"))
	require.Equal(t, 3, smokeproof(t, check...), "what is not drawn is not judged, whoever waits for it")
	res, err := harness.ReadResults(filepath.Join(dir, "out", harness.ResultsName))
	require.NoError(t, err)
	require.Len(t, res.Changes, 3)
	for _, c := range res.Changes {
		require.Equal(t, []string{"later", "2999-12-31"}, []string{c.Verdict, c.Until}, c.Glyph)
	}
}
