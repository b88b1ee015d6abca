package review

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// FuzzBundle shows results of another's machine in every form. What they hold
// stays text: nothing moves a cursor, turns a line round, or is markup.
func FuzzBundle(f *testing.F) {
	dir := f.TempDir()
	require.NoError(f, harness.WriteResults(dir, manyWays()))
	seed, err := os.ReadFile(filepath.Join(dir, harness.ResultsName))
	require.NoError(f, err)
	f.Add(seed)
	require.NoError(f, harness.WriteResults(dir, results(one(hostile))))
	seed, err = os.ReadFile(filepath.Join(dir, harness.ResultsName))
	require.NoError(f, err)
	f.Add(seed)
	var empty bytes.Buffer
	require.NoError(f, writePage(&empty, &laidOut(results(), nil).head, onDisk))
	tags := bytes.Count(empty.Bytes(), []byte("<"))
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), harness.ResultsName)
		require.NoError(t, os.WriteFile(path, data, 0o666))
		res, err := harness.ReadResults(path)
		if err != nil {
			return
		}
		for name, write := range map[string]func(io.Writer, *harness.Results) error{
			"summary.md": func(w io.Writer, r *harness.Results) error { return WriteMarkdown(w, GistOf(r)) }, "junit.xml": WriteJUnit, "differences.txt": differences,
			"terminal": func(w io.Writer, r *harness.Results) error {
				return WriteTerminal(w, GistOf(r), "run smokeproof review", false, 100)
			},
		} {
			var b bytes.Buffer
			require.NoError(t, write(&b, res), name)
			at := strings.IndexFunc(b.String(), strays)
			require.Less(t, at, 0, "%s: %.20q", name, b.String()[max(at, 0):])
		}
		var md, sarif bytes.Buffer
		require.NoError(t, WriteMarkdown(&md, GistOf(res)))
		own := strings.NewReplacer("<details>", "", "</details>", "", "<summary>", "", "</summary>", "", "<code>", "", "</code>", "")
		require.NotContains(t, own.Replace(md.String()), "<", "no markup but our own")
		require.NoError(t, WriteSARIF(&sarif, GistOf(res)))
		require.True(t, json.Valid(sarif.Bytes()))
		var page bytes.Buffer
		sheet := laidOut(res, nil)
		require.NoError(t, writePage(&page, &sheet.head, onDisk))
		require.Equal(t, tags, bytes.Count(page.Bytes(), []byte("<")), "no markup but our own")
		for n := range sheet.files {
			var b bytes.Buffer
			require.NoError(t, sheet.writePlates(&b, n))
			require.NotContains(t, b.String(), "<", "a script that ends nowhere else")
		}
	})
}

// strays are the control characters that a report of ours never holds, and the
// marks that change the direction of writing.
func strays(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r)
}
