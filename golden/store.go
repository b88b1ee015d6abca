package golden

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"smokeproof/harness/glyph"
)

// Load reads one strike's goldens with their approvals. A strike that has none
// is an empty Strike and no error.
func (s *Store) Load(ctx context.Context, id glyph.Strike) (*Strike, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	unlock, err := s.lock(ctx, shared)
	if err != nil {
		return nil, err
	}
	defer unlock()
	return s.load(id)
}

func (s *Store) load(id glyph.Strike) (*Strike, error) {
	base := filepath.Join(s.dir, place(id))
	if err := s.inside(base); err != nil {
		return nil, err
	}
	out := &Strike{ID: id, approvals: &approvals{acts: map[string]*act{}}}
	if data, err := os.ReadFile(base + ".approvals"); err == nil {
		if out.approvals, err = readApprovals(data); err != nil {
			return nil, fmt.Errorf("%s.approvals: %w; restore it from git", base, err)
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	font, err := readStrikeFile(base)
	if err != nil || font == nil {
		return out, err
	}
	out.Cells = font.Cells
	index := map[glyph.Key]int{}
	for _, l := range out.approvals.glyphs {
		index[l.key] = l.index
	}
	for i := range out.Cells {
		if n, ok := index[out.Cells[i].Key]; ok {
			out.Cells[i].Index = n
		}
	}
	return out, nil
}

// readStrikeFile reads BASE.bdf or BASE.bdf.gz; nil where there is neither.
func readStrikeFile(base string) (*Font, error) {
	for _, ending := range []string{".bdf", ".bdf.gz"} {
		f, err := os.Open(base + ending)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		defer f.Close()
		var r io.Reader = f
		if ending == ".bdf.gz" {
			if r, err = gzip.NewReader(f); err != nil {
				return nil, fmt.Errorf("%s%s: %w", base, ending, err)
			}
		}
		font, err := ReadBDF(r)
		if err != nil {
			return nil, fmt.Errorf("%s%s: %w", base, ending, err)
		}
		return font, nil
	}
	return nil, nil
}

// Record stores decisions on one strike: approved cells become goldens, every
// decision is written to the approvals file, both or neither.
func (s *Store) Record(ctx context.Context, id glyph.Strike, ds []Decision) error {
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return fmt.Errorf("golden: %w", err)
	}
	unlock, err := s.lock(ctx, exclusive)
	if err != nil {
		return err
	}
	defer unlock()
	old, err := s.load(id)
	if err != nil {
		return err
	}
	old.approvals.add(ds)
	depth := 1
	if id.Mode == glyph.Grey {
		depth = 8
	}
	font := &Font{Name: id.Face, Size: id.Size, DPI: id.DPI, Depth: depth, Cells: merge(old.Cells, ds)}
	bdf, ending, err := s.encode(font)
	if err != nil {
		return err
	}
	base := filepath.Join(s.dir, place(id))
	if err := s.attributes(); err != nil {
		return err
	}
	w := pair{dir: s.dir, files: map[string][]byte{base + ending: bdf, base + ".approvals": old.approvals.bytes()}}
	return w.write()
}

func (s *Store) encode(f *Font) (data []byte, ending string, err error) {
	var b bytes.Buffer
	if !s.Gzip {
		err = WriteBDF(&b, f)
		return b.Bytes(), ".bdf", err
	}
	z := gzip.NewWriter(&b)
	if err = WriteBDF(z, f); err == nil {
		err = z.Close()
	}
	return b.Bytes(), ".bdf.gz", err
}

// attributes tells git to leave our lock alone, and to keep both sides' lines
// where approvals meet: each line stands for itself, and verify finds two
// approvals of one glyph.
func (s *Store) attributes() error {
	for name, text := range map[string]string{
		".gitattributes": "*.approvals merge=union\n",
		".gitignore":     ".lock\n.new-*\n" + intentName + "\n",
	} {
		path := filepath.Join(s.dir, name)
		if _, err := os.Lstat(path); err == nil {
			continue
		}
		if err := writeAside(path, []byte(text)); err != nil {
			return err
		}
	}
	return nil
}

// inside refuses a path that a symbolic link leads out of the store.
func (s *Store) inside(path string) error {
	root, err := filepath.EvalSymlinks(s.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	for _, p := range []string{filepath.Dir(path), path + ".bdf", path + ".bdf.gz", path + ".approvals"} {
		real, err := filepath.EvalSymlinks(p)
		if err != nil {
			continue // not there yet
		}
		if rel, err := filepath.Rel(root, real); err != nil || rel == ".." || len(rel) > 2 && rel[:3] == ".."+string(filepath.Separator) {
			return fmt.Errorf("%s leads out of the golden folder; remove the symbolic link", p)
		}
	}
	return nil
}

// strikes lists the files of the store without ending, sorted.
func (s *Store) strikes() ([]string, error) {
	seen := map[string]bool{}
	err := filepath.WalkDir(s.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		for _, ending := range []string{".bdf", ".bdf.gz", ".approvals"} {
			if base, ok := goldenBase(path, ending); ok {
				seen[base] = true
			}
		}
		return nil
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: there are no goldens; approve some first", s.dir)
	}
	var out []string
	for b := range seen {
		out = append(out, b)
	}
	slices.Sort(out)
	return out, err
}

func goldenBase(path, ending string) (string, bool) {
	if filepath.Base(path)[0] == '.' || len(path) <= len(ending) || path[len(path)-len(ending):] != ending {
		return "", false
	}
	return path[:len(path)-len(ending)], true
}
