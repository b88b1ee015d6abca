//go:build unix

package harness

import (
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// A pipe that nobody writes to stands where each entry stood: it is not waited for.
func TestAPipeInTheCacheIsATornEntry(t *testing.T) {
	d := newDesk(t)
	pipes := 0
	require.NoError(t, filepath.WalkDir(d.cache, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		pipes++
		require.NoError(t, os.Remove(path))
		return syscall.Mkfifo(path, 0o666)
	}))
	require.GreaterOrEqual(t, pipes, 2)
	drawn, glyphs := d.holds(t)
	require.Equal(t, glyphs, drawn)
}
