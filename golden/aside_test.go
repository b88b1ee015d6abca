//go:build unix

package golden

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAFileAppearsWholeOrNotAtAll(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	write := func(text string, fail error) error {
		return WriteWhole(path, func(w io.Writer) error {
			_, err := io.WriteString(w, text)
			return errors.Join(err, fail)
		})
	}
	broken := errors.New("broken off")
	require.ErrorIs(t, write("half", broken), broken)
	require.NoFileExists(t, path)
	require.NoError(t, write("whole", nil))
	require.ErrorIs(t, write("half", broken), broken)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "whole", string(data))
	left, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, left, 1)
	require.ErrorContains(t, WriteWhole(filepath.Join(path, "b"), func(io.Writer) error { return nil }), "cannot write beside")
}

func TestWhatIsNoFileKeepsItsPlace(t *testing.T) {
	dir := t.TempDir()
	text := func(w io.Writer) error { _, err := io.WriteString(w, "text"); return err }

	pipe := filepath.Join(dir, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	read := make(chan string)
	go func() {
		data, err := os.ReadFile(pipe)
		read <- fmt.Sprint(string(data), err)
	}()
	require.NoError(t, WriteWhole(pipe, text))
	require.Equal(t, "text<nil>", <-read)
	st, err := os.Lstat(pipe)
	require.NoError(t, err)
	require.NotZero(t, st.Mode()&fs.ModeNamedPipe)

	file, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	require.NoError(t, os.WriteFile(file, []byte("kept"), 0o600))
	require.NoError(t, os.Symlink(file, link))
	require.EqualError(t, WriteWhole(link, text), link+" is a link; name the file that it leads to")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, "kept", string(data))
}
