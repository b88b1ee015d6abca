package golden

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// intentName is the file that says which renames are under way. Once it is
// on disk the change counts as made: whoever comes next finishes it.
const intentName = ".smokeproof-intent"

// asidePrefix begins the name of a file that is not in its place yet.
const asidePrefix = ".new-"

// maxIntent bounds the intent in bytes: it names three files.
const maxIntent = 1 << 16

// batch writes several files of a store as one: aside first, then the intent,
// then all renames, then the intent is removed. It wants the exclusive lock. No
// path, of the store or of an intent somebody left in it, leads out of root.
type batch struct {
	root  *os.Root
	files []batchFile
}

// batchFile is a file of a batch. What it holds is written as it is made: a strike of ideographs is many megabytes.
type batchFile struct {
	path  string
	print func(io.Writer) error // nil: remove the file
}

// add puts a file into the batch, behind those that it depends on.
func (b *batch) add(path string, print func(io.Writer) error) {
	b.files = append(b.files, batchFile{path, print})
}

// rename is one step of an intent; without To the file is removed.
type rename struct{ From, To string }

func (b *batch) write() error {
	var steps []rename
	for i := range b.files {
		step, err := b.prepare(&b.files[i])
		if err != nil {
			b.discard(steps)
			return unchanged(err)
		}
		steps = append(steps, step)
	}
	intent, err := json.Marshal(steps)
	if err == nil {
		err = putWhole(b.root, intentName, intent)
	}
	if err != nil {
		b.discard(steps)
		return unchanged(err)
	}
	return finish(b.root)
}

func unchanged(err error) error {
	if strings.HasSuffix(err.Error(), "path escapes from parent") { // os.Root's own error has no name
		err = fmt.Errorf("%w; remove the symbolic link that leads out of the golden folder", err)
	}
	return fmt.Errorf("golden: %w; the goldens of this strike are as they were", err)
}

// prepare writes one file aside.
func (b *batch) prepare(f *batchFile) (rename, error) {
	if f.print == nil {
		return rename{From: f.path}, nil
	}
	if err := makeDir(b.root, filepath.Dir(f.path)); err != nil {
		return rename{}, err
	}
	aside := asideOf(f.path)
	return rename{aside, f.path}, writeSynced(b.root, aside, f.print)
}

func (b *batch) discard(steps []rename) {
	for _, s := range steps {
		if s.To != "" {
			b.root.Remove(s.From)
		}
	}
}

func asideOf(path string) string {
	return filepath.Join(filepath.Dir(path), asidePrefix+filepath.Base(path))
}

// makeDir makes a folder and those above it, each on disk before it is used.
func makeDir(root *os.Root, dir string) error {
	if _, err := root.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := makeDir(root, filepath.Dir(dir)); err != nil {
		return err
	}
	if err := root.Mkdir(dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncDir(root.Open(filepath.Dir(dir)))
}

// finish carries out the intent that is on disk, if there is one. A step whose source is
// gone was carried out before.
func finish(root *os.Root) error {
	st, err := root.Lstat(intentName)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	path := filepath.Join(root.Name(), intentName)
	refuse := func(err error) error {
		return fmt.Errorf("%s: %w; remove it and restore the goldens from git", path, err)
	}
	if err == nil && (!st.Mode().IsRegular() || st.Size() > maxIntent) {
		err = errors.New("no intent of this program")
	}
	if err != nil {
		return refuse(err)
	}
	data, err := root.ReadFile(intentName)
	if err != nil {
		return refuse(err)
	}
	var steps []rename
	if err := json.Unmarshal(data, &steps); err != nil {
		return refuse(err)
	}
	for _, s := range steps {
		if s.To == "" {
			err = root.Remove(s.From)
		} else {
			err = root.Rename(s.From, s.To)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return refuse(err)
		}
		if err := syncDir(root.Open(filepath.Dir(s.From))); err != nil {
			return refuse(err)
		}
	}
	if err := root.Remove(intentName); err != nil {
		return err
	}
	return syncDir(root.Open("."))
}

// putWhole puts a file in its place whole or not at all.
func putWhole(root *os.Root, path string, data []byte) error {
	aside := asideOf(path)
	err := writeSynced(root, aside, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
	if err != nil {
		return err
	}
	if err := root.Rename(aside, path); err != nil {
		return err
	}
	return syncDir(root.Open(filepath.Dir(path)))
}

// writeSynced writes a new file, in place of what a killed writer left or
// somebody planted there; where that fails nothing is left behind.
func writeSynced(root *os.Root, path string, print func(io.Writer) error) error {
	if err := root.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := root.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(f, 1<<16)
	err = print(w)
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		root.Remove(path)
	}
	return err
}

// syncDir syncs a folder; it takes both results of opening it.
func syncDir(dir *os.File, err error) error {
	if err != nil {
		return err
	}
	defer dir.Close()
	return dir.Sync()
}
