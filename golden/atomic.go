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

// pair writes several files as one: aside first, then the intent, then all
// renames, then the intent is removed. It wants the exclusive lock.
type pair struct {
	dir   string
	files map[string][]byte
}

// rename is one step of an intent, both paths below the store.
type rename struct{ From, To string }

func (p *pair) write() error {
	var steps []rename
	for _, path := range slices.Sorted(maps.Keys(p.files)) {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return fmt.Errorf("golden: %w", err)
		}
		aside := filepath.Join(filepath.Dir(path), ".new-"+filepath.Base(path))
		if err := writeSynced(aside, p.files[path]); err != nil {
			p.discard(steps)
			os.Remove(aside)
			return fmt.Errorf("golden: %w; nothing was changed", err)
		}
		from, err := filepath.Rel(p.dir, aside)
		if err != nil {
			return err
		}
		to, err := filepath.Rel(p.dir, path)
		if err != nil {
			return err
		}
		steps = append(steps, rename{from, to})
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

func (p *pair) discard(steps []rename) {
	for _, s := range steps {
		os.Remove(filepath.Join(p.dir, s.From))
	}
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
		if !filepath.IsLocal(s.From) || !filepath.IsLocal(s.To) {
			return fmt.Errorf("%s leads out of the golden folder; remove it and restore the goldens from git", path)
		}
		to := filepath.Join(dir, s.To)
		if err := os.Rename(filepath.Join(dir, s.From), to); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if err := syncDir(filepath.Dir(to)); err != nil {
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
	aside := filepath.Join(filepath.Dir(path), ".new-"+filepath.Base(path))
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
