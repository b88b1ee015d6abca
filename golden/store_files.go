package golden

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// storeFiles reads files of a store, by their paths below it. A symbolic link
// that leads out of the folder is refused.
type storeFiles struct {
	dir   string
	quick *folder  // nil where the system has no such way
	root  *os.Root // nil until it is needed
	past  *revision
	room  []byte // the next file is read into it, if it fits
}

func (s *Store) files() *storeFiles {
	f := &storeFiles{dir: s.dir, past: s.past}
	if s.past == nil {
		if quick, ok := openFolder(s.dir); ok {
			f.quick = quick
		}
	}
	return f
}

func (f *storeFiles) Close() error {
	var quick, root error
	if f.quick != nil {
		quick = f.quick.Close()
	}
	if f.root != nil {
		root = f.root.Close()
	}
	return errors.Join(quick, root)
}

// open opens the folder for the careful way of reading, by os.Root. ErrNotExist is in the
// chain of its error where there is no folder.
func (f *storeFiles) open() (root *os.Root, err error) {
	if f.root == nil {
		if f.root, err = os.OpenRoot(f.dir); err != nil {
			return nil, fmt.Errorf("golden: %w", err)
		}
	}
	return f.root, nil
}

func (f *storeFiles) read(path string) ([]byte, error) {
	if f.past != nil {
		return f.past.read(filepath.ToSlash(path))
	}
	if f.quick != nil {
		if data, ok, err := f.quick.read(path, f.room); ok {
			return data, err
		}
	}
	root, err := f.open()
	if err != nil {
		return nil, err
	}
	if st, err := root.Stat(path); err == nil && (!st.Mode().IsRegular() || st.Size() > maxBDF) {
		return nil, fmt.Errorf("golden: %s: %w: no regular file of at most %d bytes", filepath.Join(f.dir, path), ErrUnsupported, maxBDF)
	}
	data, err := root.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("golden: %s: %w; if it is a symbolic link out of the folder, remove it", filepath.Join(f.dir, path), err)
	}
	return data, err
}

func (f *storeFiles) has(path string) bool {
	root, err := f.open()
	if err != nil {
		return false
	}
	_, err = root.Lstat(path)
	return err == nil
}

// readFont reads BASE.bdf or BASE.bdf.gz; nil where there is neither.
func (f *storeFiles) readFont(base string) (font *Font, ending string, err error) {
	data, ending, err := f.readBDF(base)
	if err != nil || data == nil {
		return nil, "", err
	}
	if font, err = ParseBDF(data); err != nil {
		return nil, "", fmt.Errorf("%s%s: %w", filepath.Join(f.dir, base), ending, err)
	}
	return font, ending, nil
}

// document opens BASE.bdf or BASE.bdf.gz, to be read into room; no document where there
// is neither.
func (f *storeFiles) document(base string) (d document, ending string, err error) {
	if f.quick != nil {
		if file, size, ok := f.quick.open(base + ".bdf"); ok {
			return document{file: file, size: size, room: f.room}, ".bdf", nil
		}
	}
	data, ending, err := f.readBDF(base)
	return textDocument(data), ending, err
}

// readBDF gives the document in BASE.bdf or BASE.bdf.gz; nil where there is neither.
func (f *storeFiles) readBDF(base string) (data []byte, ending string, err error) {
	for _, ending := range []string{".bdf", ".bdf.gz"} {
		data, err := f.read(base + ending)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil && ending == ".bdf.gz" {
			data, err = gunzip(data, maxUnpacked)
		}
		if err != nil {
			return nil, "", fmt.Errorf("%s%s: %w", filepath.Join(f.dir, base), ending, err)
		}
		return data, ending, nil
	}
	return nil, "", nil
}
