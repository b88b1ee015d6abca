package golden

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"smokeproof/harness/glyph"
)

// Sheet is a strike's goldens as they lie on disk. A candidate that would be
// written as its golden is written, letter for letter, equals it: to know that,
// the golden need not be read.
type Sheet struct {
	strike *Strike // its cells not read yet
	path   string  // for messages
	data   []byte  // the BDF document; nil where there is none
	depth  int     // of the font; 0 where the text is not as WriteBDF has it
	at     int     // where the next golden begins
	same   int     // how many came before it
	text   []byte
}

// Sheet opens one strike's goldens with their approvals. A strike that has none
// is an empty Sheet and no error.
func (s *Store) Sheet(ctx context.Context, id glyph.Strike) (*Sheet, error) {
	out, err := s.open(ctx, id, nil)
	if err == nil {
		out.begin()
	}
	return out, err
}

// open reads a strike's files under the shared lock, the document into room
// where it fits.
func (s *Store) open(ctx context.Context, id glyph.Strike, room []byte) (*Sheet, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	unlock, err := s.lock(ctx, shared)
	if err != nil {
		return nil, err
	}
	defer unlock()
	return s.sheet(id, room)
}

func (s *Store) sheet(id glyph.Strike, room []byte) (*Sheet, error) {
	files := s.files()
	defer files.Close()
	files.room = room
	base := place(id)
	out := &Sheet{strike: &Strike{ID: id, approvals: newApprovals()}}
	if data, err := files.read(base + ".approvals"); err == nil {
		if out.strike.approvals, err = readApprovals(data); err != nil {
			return nil, fmt.Errorf("%s.approvals: %w; restore it from git", filepath.Join(s.dir, base), err)
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	data, ending, err := files.readBDF(base)
	if err != nil {
		return nil, err
	}
	out.data, out.path = data, filepath.Join(s.dir, base)+ending
	return out, nil
}

// begin finds the first glyph, behind a header that must make sense alone.
func (s *Sheet) begin() {
	at := bytes.Index(s.data, []byte("\nCHARS "))
	if at < 0 {
		return
	}
	end := bytes.IndexByte(s.data[at+1:], '\n')
	if end < 0 {
		return
	}
	s.at = at + 1 + end + 1
	if f, err := ParseBDF(append(bytes.Clone(s.data[:s.at]), "ENDFONT\n"...)); err == nil {
		s.depth = f.Depth
	}
}

// Same says that the next golden is this candidate's, equal and approved, and
// passes on to the one after it. Where it says no the two may still be equal;
// Strike then has the golden. The candidate's bitmap must be tight.
func (s *Sheet) Same(c *glyph.Cell) bool {
	if s.depth != c.Bitmap.Depth {
		return false
	}
	s.text = appendGlyph(s.text[:0], c, &c.Bitmap)
	if !bytes.HasPrefix(s.data[s.at:], s.text) || !s.strike.Approved(c) {
		return false
	}
	s.at += len(s.text)
	s.same++
	return true
}

// AllSame says that Same has passed on every golden.
func (s *Sheet) AllSame() bool { return s.depth != 0 && string(s.data[s.at:]) == "ENDFONT\n" }

// Passed counts the goldens that Same passed on: the first cells of Strike.
func (s *Sheet) Passed() int { return s.same }

// Strike reads the goldens.
func (s *Sheet) Strike() (*Strike, error) {
	out := s.strike
	if s.data == nil {
		return out, nil
	}
	font, err := ParseBDF(s.data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.path, err)
	}
	out.Cells = font.Cells
	index := make(map[glyph.Key]int, len(out.approvals.glyphs))
	for i := range out.approvals.glyphs {
		l := &out.approvals.glyphs[i]
		index[l.key] = l.index
	}
	last := 0 // a cell that nobody approved keeps its place behind the one before it
	for i := range out.Cells {
		c := &out.Cells[i]
		if n, ok := index[c.Key]; ok {
			c.Index = n
		} else if c.Code != glyph.NoCode {
			c.Index = last
		}
		last = c.Index
	}
	return out, nil
}
