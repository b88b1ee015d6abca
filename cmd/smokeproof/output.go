package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"smokeproof/golden"
)

// writeTo puts what print writes where a person named: into a file whole or not at all, and
// into a device, a pipe or what lies under /dev, such as /dev/stdout, as it comes. A file put
// in the place of a device would take it from the whole machine.
func writeTo(path string, print func(io.Writer) error) error {
	if err := noFolder(path); err != nil {
		return err
	}
	at, err := os.Lstat(path)
	stream := err == nil && at.Mode()&(fs.ModeDevice|fs.ModeNamedPipe) != 0
	if !stream && !strings.HasPrefix(filepath.Clean(path), "/dev/") {
		return golden.WriteWhole(path, print)
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(print(f), f.Close())
}

func noFolder(path string) error {
	if st, err := os.Stat(path); err == nil && st.IsDir() {
		return fmt.Errorf("%s is a folder; name a file", path)
	}
	return nil
}
