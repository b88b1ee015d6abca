package golden

import (
	"compress/gzip"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash/crc32"
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
	sheet, err := s.Sheet(ctx, id)
	if err != nil {
		return nil, err
	}
	defer sheet.Close()
	return sheet.Strike()
}

// Record stores decisions on one strike: approved cells become goldens, those
// of glyphs that are gone are dropped, every decision is written to the
// approvals file; all or nothing.
func (s *Store) Record(ctx context.Context, id glyph.Strike, ds []Decision) error {
	return s.change(ctx, id, func(old *Strike) error {
		if err := old.stillOver(ds); err != nil {
			return err
		}
		if err := old.approvals.add(ds); err != nil {
			return fmt.Errorf("%s.approvals: %w", filepath.Join(s.dir, place(id)), advised(err, restore))
		}
		old.Cells = merge(old.Cells, ds)
		return nil
	})
}

// ErrOvertaken is in the chain of Record's error where a golden is no longer the one
// that was there when the decision was made (see Decision.Over).
var ErrOvertaken = errors.New("its golden was changed by somebody else meanwhile; check and decide again")

// stillOver holds the goldens against those that the decisions were made over.
func (s *Strike) stillOver(ds []Decision) error {
	at := make(map[glyph.Key]*glyph.Cell, len(s.Cells))
	for i := range s.Cells {
		at[s.Cells[i].Key] = &s.Cells[i]
	}
	for i := range ds {
		if ds[i].Over == nil {
			continue
		}
		var now [sha256.Size]byte
		if c := at[ds[i].Cell.Key]; c != nil {
			now = c.Digest()
		}
		if now != *ds[i].Over {
			return fmt.Errorf("glyph %s: %w", EscapeKey(ds[i].Cell.Key), ErrOvertaken)
		}
	}
	return nil
}

// Import puts bitmaps made elsewhere among the goldens of one strike. Nobody
// has approved them: Verify names them until Record does.
func (s *Store) Import(ctx context.Context, id glyph.Strike, cells []glyph.Cell) error {
	return s.change(ctx, id, func(old *Strike) error {
		ds := make([]Decision, len(cells))
		for i, c := range cells {
			ds[i] = Decision{Cell: c, Verdict: Approve}
		}
		old.Cells = merge(old.Cells, ds)
		return nil
	})
}

// change reads a strike, lets edit alter it and writes it back, under the lock.
func (s *Store) change(ctx context.Context, id glyph.Strike, edit func(*Strike) error) error {
	if s.past != nil {
		return fmt.Errorf("golden: goldens of %s cannot be changed; check out a branch", s.past.name)
	}
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return fmt.Errorf("golden: %w", err)
	}
	unlock, err := s.lock(ctx, exclusive)
	if err != nil {
		return err
	}
	defer unlock()
	sheet, err := s.sheet(id)
	if err != nil {
		return err
	}
	defer sheet.Close()
	old, err := sheet.Strike()
	if err != nil {
		return err
	}
	if err := edit(old); err != nil {
		return err
	}
	return s.put(id, old)
}

// put writes a strike in the place of the one before it.
func (s *Store) put(id glyph.Strike, strike *Strike) error {
	depth := 1
	if id.Mode == glyph.Grey {
		depth = 8
	}
	ending, other := ".bdf", ".bdf.gz"
	if s.Gzip {
		ending, other = other, ending
	}
	root, err := os.OpenRoot(s.dir)
	if err != nil {
		return fmt.Errorf("golden: %w", err)
	}
	defer root.Close()
	if err := attributes(root); err != nil {
		return fmt.Errorf("golden: %w", err)
	}
	base := place(id)
	text := crc32.New(castagnoli) // of the document, before it is packed
	w := batch{root: root}
	w.add(base+ending, func(w io.Writer) error {
		return s.encode(w, text, &Font{Name: id.Face, Size: id.Size, DPI: id.DPI, Depth: depth, Cells: strike.Cells})
	})
	w.add(base+".approvals", func(w io.Writer) error {
		var seal func([]byte) string
		if strike.approvals.approved().hold(strike.Cells) {
			seal = func(lines []byte) string { return sealOf(text.Sum32(), lines) }
		}
		_, err := w.Write(strike.approvals.bytes(seal))
		return err
	})
	if _, err := root.Lstat(base + other); err == nil {
		w.add(base+other, nil)
	}
	return w.write()
}

// finish makes whole what a killed writer left.
func (s *Store) finish() error {
	root, err := os.OpenRoot(s.dir)
	if err != nil {
		return fmt.Errorf("golden: %w", err)
	}
	defer root.Close()
	return finish(root)
}

// encode writes a document to w, packed where the store is, and as it is to text.
func (s *Store) encode(w, text io.Writer, f *Font) error {
	if !s.Gzip {
		return WriteBDF(io.MultiWriter(w, text), f)
	}
	z := gzip.NewWriter(w)
	if err := WriteBDF(io.MultiWriter(z, text), f); err != nil {
		return err
	}
	return z.Close()
}

// attributes tells git to leave our lock alone, and to keep both sides' lines
// where approvals meet: each line stands for itself, and verify finds two
// approvals of one glyph.
func attributes(root *os.Root) error {
	for name, text := range map[string]string{
		".gitattributes": "*.approvals merge=union\n",
		".gitignore":     ".lock\n" + asidePrefix + "*\n" + intentName + "\n",
	} {
		if _, err := root.Lstat(name); err == nil {
			continue
		}
		if err := putWhole(root, name, []byte(text)); err != nil {
			return err
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
		golden := false
		for _, ending := range []string{".bdf", ".bdf.gz", ".approvals"} {
			if base, ok := goldenBase(path, ending); ok {
				golden, seen[base] = true, true
			}
		}
		if d.Type()&fs.ModeSymlink != 0 && !golden {
			if st, err := os.Stat(path); err != nil || st.IsDir() {
				return fmt.Errorf("golden: %s is a symbolic link: goldens below it are not seen; put the folder in its place", path)
			}
		}
		return nil
	})
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(seen) == 0 {
		return nil, fmt.Errorf("%s: there are no goldens; approve some first, or fetch them where the folder is a submodule's", s.dir)
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
