package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

// TestEveryCommandOfTheReadmeRuns runs the lines of README's code blocks that
// call smokeproof, in their order, in one folder that holds the files they
// name. Findings (1) are an answer; a usage error (2) or a broken run (3) is not.
func TestEveryCommandOfTheReadmeRuns(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "MyFace.ttf"), goregular.TTF, 0o666))
	require.NoError(t, os.CopyFS(filepath.Join(dir, "fixtures"), os.DirFS("../../fixtures")))

	lines := commandLines(string(readme))
	require.GreaterOrEqual(t, len(lines), 5, "README shows how to use the command")
	for _, line := range lines {
		if f := systemFile.FindString(line); f != "" && os.Getenv("CI") != "true" {
			if _, err := os.Stat(f); err != nil {
				t.Skipf("%s is not installed", f)
			}
		}
		c := exec.Command("sh", "-c", line)
		c.Dir, c.Env = dir, append(os.Environ(), "HOME="+dir, "XDG_CACHE_HOME="+filepath.Join(dir, "cache"))
		out, err := c.CombinedOutput()
		var exit *exec.ExitError
		if err != nil {
			require.ErrorAs(t, err, &exit, line)
		}
		require.Contains(t, []int{0, 1}, c.ProcessState.ExitCode(), "%s\n%s", line, out)
		require.False(t, errors.Is(err, exec.ErrNotFound), line)
	}
}

// systemFile is a file that a package brings.
var systemFile = regexp.MustCompile(`/usr/share/\S+`)

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
