package golden

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Aside is a file that is written beside its place and put there when it is
// whole: readers see the file of before or the file of after. Several may be
// under way for one place; the last to be put there stands.
type Aside struct {
	*os.File
	path string
}

// NewAside begins a file for a path, whose folder must exist.
func NewAside(path string) (*Aside, error) {
	dir, prefix := filepath.Dir(path), asidePrefix+filepath.Base(path)+"-"
	DropLeft(dir, prefix, 0)
	f, err := os.CreateTemp(dir, prefix+"*")
	if err != nil {
		return nil, fmt.Errorf("cannot write beside %s: %w", path, err)
	}
	return &Aside{f, path}, nil
}

// leftAfter is how long nothing is written to a file, or no new one to a folder, before it counts
// as left by a writer that was killed.
const leftAfter = 24 * time.Hour

// DropLeft removes what killed writers left in a folder: of files whose names begin so, those of a type,
// 0 or fs.ModeDir. Where that fails it stays.
func DropLeft(dir, prefix string, kind fs.FileMode) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, d := range list {
		if !strings.HasPrefix(d.Name(), prefix) || d.Type() != kind {
			continue
		}
		if st, err := d.Info(); err == nil && time.Since(st.ModTime()) > leftAfter {
			os.RemoveAll(filepath.Join(dir, d.Name()))
		}
	}
}

// Put gives the file its place; where that fails nothing is left behind.
func (a *Aside) Put() error {
	err := errors.Join(a.Chmod(0o644), a.Sync(), a.Close())
	if err == nil {
		err = os.Rename(a.Name(), a.path)
	}
	if err != nil {
		os.Remove(a.Name())
		return fmt.Errorf("%s: %w", a.path, err)
	}
	return syncDir(os.Open(filepath.Dir(a.path)))
}

// Drop forgets the file. After Put it does nothing.
func (a *Aside) Drop() {
	a.Close()
	os.Remove(a.Name())
}

// WriteWhole puts what print writes in its place whole or not at all.
func WriteWhole(path string, print func(io.Writer) error) error {
	a, err := NewAside(path)
	if err != nil {
		return err
	}
	if err := print(a); err != nil {
		a.Drop()
		return fmt.Errorf("%s: %w", path, err)
	}
	return a.Put()
}
