package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestPageLeavesWhatWasMadeByHandToADecisionOfItsOwn: of two new glyphs one has a
// bitmap that a person tuned; approving all that is shown must not replace it.
func TestPageLeavesWhatWasMadeByHandToADecisionOfItsOwn(t *testing.T) {
	dir, plan := larkmoor(t)
	strike := []string{"--plan", plan, "--device", "label", "--size", "8"}
	with := func(verb string, more ...string) []string { return append(append([]string{verb}, strike...), more...) }
	require.Equal(t, 0, smokeproof(t, with("approve", "--changed", "--also", "critical", "--by", "Ada Marsh", "--why", "first set", "--quiet")...))
	art := filepath.Join(dir, "e.txt")
	require.Equal(t, 0, smokeproof(t, with("export", "--glyphs", "e", "--format", "art", "--out", art)...))
	text, err := os.ReadFile(art)
	require.NoError(t, err)
	tuned := strings.Replace(string(text), "\n.", "\n#", 1)
	require.NotEqual(t, string(text), tuned)
	require.NoError(t, os.WriteFile(art, []byte(tuned), 0o666))
	require.Equal(t, 0, smokeproof(t, with("import", art)...))
	takeOut(filepath.Join(dir, "golden", "larkmoor-text", "203", "8.bdf"), "n")
	require.Equal(t, 1, smokeproof(t, with("check", "--quiet")...))
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))

	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	require.Equal(t, []string{"e unapproved", "n new"}, ask[[]string](r, `changes.map(c => c.glyph + " " + c.kind).sort()`))
	require.Equal(t, 2, ask[int](r, `shown.length`), "they are two matters")
	r.tell(`goTo(changes.find(c => c.glyph === "e")); byId("why").value = "as drawn"`)
	r.wait(`document.querySelector("#loupe h2").textContent.startsWith("e")`)
	require.Equal(t, "in the folder", ask[string](r, `document.querySelector("#loupe figcaption").textContent`))
	require.Contains(t, ask[string](r, `document.querySelector(".findings").textContent`), "approve --stored")
	require.Contains(t, ask[string](r, `document.querySelector(".plates").textContent`), "1 lost, 0 gained")
	r.picture("by-hand")
	r.tell(`goTo(changes.find(c => c.glyph === "n"))`)
	r.press("3", "a")
	require.Equal(t, []string{"n"}, ask[[]string](r, `changes.filter(verdictOf).map(c => c.glyph)`))
	r.quiet()
}
