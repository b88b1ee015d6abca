package golden

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// intentName is the file that says which renames are under way. Once it is
// on disk the change counts as made: whoever comes next finishes it.
const intentName = ".smokeproof-intent"

// asidePrefix begins the name of a file that is not in its place yet.
const asidePrefix = ".new-"

// pair writes several files as one: aside first, then the intent, then all
// renames, then the intent is removed. It wants the exclusive lock.
type pair struct {
	dir   string
	files map[string][]byte // nil: remove the file
}

// rename is one step of an intent, both paths below the store; without To the
// file is removed.
type rename struct{ From, To string }

func (p *pair) write() error {
	var steps []rename
	for _, path := range slices.Sorted(maps.Keys(p.files)) {
		step, err := p.prepare(path)
		if err != nil {
			p.discard(steps)
			return fmt.Errorf("golden: %w; nothing was changed", err)
		}
		steps = append(steps, step)
	}
	intent, err := json.Marshal(steps)
	if err == nil {
		err = writeAside(filepath.Join(p.dir, intentName), intent)
	}
	if err != nil {
		p.discard(steps)
		return fmt.Errorf("golden: %w; nothing was changed", err)
	}
	return finish(p.dir)
}

// prepare writes one file aside.
func (p *pair) prepare(path string) (rename, error) {
	to, err := filepath.Rel(p.dir, path)
	if err != nil {
		return rename{}, err
	}
	if p.files[path] == nil {
		return rename{From: to}, nil
	}
	aside := filepath.Join(filepath.Dir(path), asidePrefix+filepath.Base(path))
	if err := makeDir(filepath.Dir(path)); err != nil {
		return rename{}, err
	}
	if err := writeSynced(aside, p.files[path]); err != nil {
		os.Remove(aside)
		return rename{}, err
	}
	from, err := filepath.Rel(p.dir, aside)
	return rename{from, to}, err
}

func (p *pair) discard(steps []rename) {
	for _, s := range steps {
		if s.To != "" {
			os.Remove(filepath.Join(p.dir, s.From))
		}
	}
}

// makeDir makes a folder and those above it, each on disk before it is used.
func makeDir(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	if err := makeDir(filepath.Dir(dir)); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncDir(filepath.Dir(dir))
}

// finish carries out the intent that is on disk, if there is one. A step whose
// source is gone was done before.
func finish(dir string) error {
	path := filepath.Join(dir, intentName)
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	var steps []rename
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&steps); err != nil {
		return fmt.Errorf("%s: %w; remove it and restore the goldens from git", path, err)
	}
	for _, s := range steps {
		if !filepath.IsLocal(s.From) || s.To != "" && !filepath.IsLocal(s.To) {
			return fmt.Errorf("%s leads out of the golden folder; remove it and restore the goldens from git", path)
		}
		from, to := filepath.Join(dir, s.From), filepath.Join(dir, s.To)
		var err error
		if s.To == "" {
			err = os.Remove(from)
		} else {
			err = os.Rename(from, to)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if err := syncDir(filepath.Dir(from)); err != nil {
			return err
		}
	}
	if err := os.Remove(path); err != nil {
		return err
	}
	return syncDir(dir)
}

// writeAside puts a file in its place whole or not at all.
func writeAside(path string, data []byte) error {
	aside := filepath.Join(filepath.Dir(path), asidePrefix+filepath.Base(path))
	if err := writeSynced(aside, data); err != nil {
		os.Remove(aside)
		return err
	}
	if err := os.Rename(aside, path); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}

func writeSynced(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
