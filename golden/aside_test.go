package golden

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

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

func TestWhatKilledWritersLeftIsDroppedAfterADay(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "results.json")
	for _, c := range []struct {
		reason, name string
		age          time.Duration
		gone         bool
	}{
		{"left two days ago", ".new-results.json-1", 48 * time.Hour, true},
		{"perhaps being written", ".new-results.json-2", time.Hour, false},
		{"of another file", ".new-summary.md-3", 48 * time.Hour, false},
		{"somebody's own", "results.json-4", 48 * time.Hour, false},
	} {
		other := filepath.Join(dir, c.name)
		require.NoError(t, os.WriteFile(other, nil, 0o666))
		then := time.Now().Add(-c.age)
		require.NoError(t, os.Chtimes(other, then, then))
		require.NoError(t, WriteWhole(path, func(io.Writer) error { return nil }))
		_, err := os.Stat(other)
		require.Equal(t, c.gone, errors.Is(err, os.ErrNotExist), c.reason)
	}
	folder := filepath.Join(dir, ".new-results.json-5")
	require.NoError(t, os.Mkdir(folder, 0o777))
	then := time.Now().Add(-48 * time.Hour)
	require.NoError(t, os.Chtimes(folder, then, then))
	require.NoError(t, WriteWhole(path, func(io.Writer) error { return nil }))
	require.DirExists(t, folder, "a folder is no file's")
}
