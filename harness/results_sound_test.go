package harness

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestResultsOfAnotherProgramAreRefused(t *testing.T) {
	plan, dir := sharded(t), t.TempDir()
	checkInto(t, plan, dir, Options{})
	path := filepath.Join(dir, ResultsName)
	sound, err := os.ReadFile(path)
	require.NoError(t, err)
	_, err = ReadResults(path)
	require.NoError(t, err)
	for _, c := range []struct{ why, from, to string }{
		{"a finding that is markup", `"finding":"`, `"finding":"<img src=x>`},
		{"a severity that is markup", `"severity":"`, `"severity":"<b>`},
		{"a severity that fills the line", `"severity":"`, `"severity":"` + strings.Repeat("x", 65)},
		{"a size that moves the cursor", `"size":"`, `"size":"\u001b[2J`},
		{"a resolution that turns the line round", `"dpi":"`, `"dpi":"\u202e`},
		{"a mode of two lines", `"mode":"`, `"mode":"\n`},
		{"a digest that is a path", `"digest":"`, `"digest":"../../`},
		{"a gate that is markup", `"gate":"major`, `"gate":"<b>`},
		{"a picture without end", `"golden":{"left":`, `"golden":{"left":9223372036854775`},
		{"a picture of no depth", `"depth":1`, `"depth":0`},
		{"weights of more pixels than bytes", `"bytes":"`, `"bytes":"","was":"`},
		{"a count under a name that is markup", `"by_severity":{`, `"by_severity":{"<script>":1,`},
	} {
		require.Contains(t, string(sound), c.from, c.why)
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(sound), c.from, c.to, 1)), 0o666))
		_, err := ReadResults(path)
		require.ErrorContains(t, err, "not as check writes them", c.why)
		_, err = ReadFindings(path, takeNone)
		require.ErrorContains(t, err, "not as check writes them", c.why)
	}
}
