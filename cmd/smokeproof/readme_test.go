package main

import (
	"bufio"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/golden"
	"smokeproof/harness/review"
)

// TestEveryCommandOfTheReadmeRuns runs the lines of README's code blocks that
// call smokeproof, in their order, in one folder that holds the files they
// name. Findings (1) are an answer; a usage error (2) or a broken run (3) is not.
func TestEveryCommandOfTheReadmeRuns(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "MyFace.ttf"), goregular.TTF, 0o666))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "released"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "released", "MyFace.ttf"), gobold.TTF, 0o666))
	require.NoError(t, os.CopyFS(filepath.Join(dir, "fixtures"), os.DirFS("../../fixtures")))
	empty, err := json.Marshal(review.Decisions{Version: review.DecisionsVersion, Decisions: []review.Decision{}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "decisions.json"), empty, 0o666))

	require.NoError(t, os.WriteFile(filepath.Join(dir, ".gitconfig"), []byte("[user]\n\tname = Ada Marsh\n\temail = ada@larkmoor.example\n"), 0o666))

	lines := commandLines(string(readme))
	require.GreaterOrEqual(t, len(lines), 5, "README shows how to use the command")
	for _, line := range lines {
		c := exec.CommandContext(t.Context(), "sh", "-c", "exec "+line)
		c.Dir, c.Env = dir, append(os.Environ(), "HOME="+dir, "XDG_CACHE_HOME="+filepath.Join(dir, "cache"))
		if strings.Contains(line, "--serve") {
			serveOnce(t, c)
			continue
		}
		out, err := c.CombinedOutput()
		var exit *exec.ExitError
		if err != nil {
			require.ErrorAs(t, err, &exit, line)
		}
		require.Contains(t, []int{0, 1}, c.ProcessState.ExitCode(), "%s\n%s", line, out)
	}
}

// serveOnce starts a command that serves until it is broken off, and breaks it
// off once it has said where its page is.
func serveOnce(t *testing.T, c *exec.Cmd) {
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	c.Stderr = c.Stdout
	require.NoError(t, c.Start())
	late := time.AfterFunc(30*time.Second, func() { c.Process.Kill() })
	defer late.Stop()
	said := bufio.NewScanner(out)
	for said.Scan() && !strings.Contains(said.Text(), "http://127.0.0.1:") {
	}
	require.Contains(t, said.Text(), "http://127.0.0.1:", "it tells where the page is")
	require.NoError(t, c.Process.Signal(os.Interrupt))
	require.NoError(t, c.Wait(), "broken off by its person, it ends well")
}

var fence = regexp.MustCompile("(?ms)^```[a-z]*\n(.*?)^```")

// commandLines finds the lines that call smokeproof, without their comments.
func commandLines(markdown string) []string {
	var lines []string
	for _, block := range fence.FindAllStringSubmatch(markdown, -1) {
		for line := range strings.Lines(block[1]) {
			if strings.HasPrefix(line, "smokeproof ") {
				line, _, _ = strings.Cut(line, "  #")
				lines = append(lines, strings.TrimSpace(line))
			}
		}
	}
	return lines
}

func TestTheDocumentThatTheReadmeShowsWorkersIsRead(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	for _, block := range fence.FindAllStringSubmatch(string(readme), -1) {
		if !strings.HasPrefix(block[1], "STARTFONT") {
			continue
		}
		font, err := golden.ParseBDF([]byte(block[1]))
		require.NoError(t, err)
		require.Len(t, font.Cells, 1)
		c := &font.Cells[0]
		require.Equal(t, []int{'e', 6, 4, 3, 1, 0, 10}, []int{int(c.Code), c.Advance, c.Bitmap.Width, c.Bitmap.Height, c.Bitmap.Left, c.Bitmap.Bottom, c.Bitmap.Ink()})
		return
	}
	t.Fatal("README shows no document")
}
