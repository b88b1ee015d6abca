//go:build unix

package main

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAPipeKeepsItsPlaceAndIsWrittenTo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	read := make(chan string)
	go func() {
		f, err := os.Open(path)
		if err != nil {
			read <- err.Error()
			return
		}
		defer f.Close()
		b, _ := io.ReadAll(f)
		read <- string(b)
	}()
	require.NoError(t, writeTo(path, func(w io.Writer) error {
		_, err := io.WriteString(w, "a strike")
		return err
	}))
	require.Equal(t, "a strike", <-read)
	at, err := os.Lstat(path)
	require.NoError(t, err)
	require.Equal(t, os.ModeNamedPipe, at.Mode().Type())
}
