//go:build unix

package infile

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOnlyRegularFilesOfTheirSizeAreRead(t *testing.T) {
	dir := t.TempDir()
	file, pipe, link, endless := filepath.Join(dir, "file"), filepath.Join(dir, "pipe"), filepath.Join(dir, "link"), filepath.Join(dir, "endless")
	require.NoError(t, os.WriteFile(file, []byte("12345"), 0o666))
	require.NoError(t, syscall.Mkfifo(pipe, 0o666))
	require.NoError(t, os.Symlink(file, link))
	require.NoError(t, os.Symlink("/dev/zero", endless))
	for _, c := range []struct {
		why, path string
		most      int64
		want, err string
	}{
		{"a file", file, 5, "12345", ""},
		{"a link to a file", link, 5, "12345", ""},
		{"a file too large", file, 4, "", "has 5 bytes, the limit is 4"},
		{"a pipe without a writer", pipe, 5, "", "no regular file"},
		{"a link to a device without end", endless, 5, "", "no regular file"},
		{"a folder", dir, 5, "", "no regular file"},
		{"nothing", filepath.Join(dir, "none"), 5, "", "no such file"},
	} {
		got, err := Read(c.path, c.most)
		if c.err == "" {
			require.NoError(t, err, c.why)
		} else {
			require.ErrorContains(t, err, c.err, c.why)
		}
		require.Equal(t, c.want, string(got), c.why)
	}
}
