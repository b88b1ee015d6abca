package golden

import (
	"errors"
	"io"
	"os"
	"path/filepath"
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
