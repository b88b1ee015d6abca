package golden

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"time"
)

// logTime bounds how long git may look for the commits that changed a file: it goes through all there are.
const logTime = 5 * time.Second

// EachVersion gives what a file was in the commits that lead to the one checked out, newest first, each
// content once, until yield says that it has enough or most were given. Git says what there is: an error where there
// is no repository.
func EachVersion(ctx context.Context, path string, most int, yield func(content []byte) bool) error {
	dir, name := filepath.Split(path)
	if dir == "" {
		dir = "."
	}
	logCtx, cancel := context.WithTimeout(ctx, logTime)
	defer cancel()
	log, err := git(logCtx, dir, "--literal-pathspecs", "log", fmt.Sprint("-n", most), "--format=", "--raw", "--no-abbrev", "--no-renames", "--", name)
	if err != nil || log == "" {
		return err
	}
	b, err := startBlobs(ctx, dir)
	if err != nil {
		return err
	}
	defer b.close()
	seen := map[string]bool{}
	for line := range strings.Lines(log) {
		f := strings.Fields(line) // modes, objects before and after, what was done, path
		if len(f) < 5 || seen[f[3]] || strings.Trim(f[3], "0") == "" {
			continue
		}
		seen[f[3]] = true
		content, err := b.blob(f[3])
		if err != nil {
			return err
		}
		if !yield(content) {
			return nil
		}
	}
	return nil
}
