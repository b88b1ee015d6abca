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

// Sheet is the goldens of one strike as they lie on disk, to hold candidates against goldens that are not
// read. Where Sound is true each golden is what was approved, so a candidate with the digest that was
// approved is equal to it. Same, Next, and Bears with Pass meet goldens one by one; Strike or Some read
// them.
type Sheet struct {
	store  *Store
	strike *Strike // its cells not read yet
	given  bool    // the strike, which is its taker's then
	path   string  // for messages
	doc    document
	header []byte // of the document, up to the first golden; nil until it is asked for
	read   bool   // the cells
	sound  bool
	met    int    // goldens
	text   []byte // scratch
}

const maxRoom = 1 << 24 // a larger one is left to the collector

// room is memory of a sheet that nothing points at any more. It has been touched: new
// memory costs more.
type room struct {
	text  []byte
	lines []glyphLine
}

// room is some sheet's, empty where there is none.
func (s *Store) room() (r room) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if n := len(s.rooms); n > 0 {
		r, s.rooms = s.rooms[n-1], s.rooms[:n-1]
	}
	return r
}

// Sheet opens one strike's goldens with their approvals, as they are now; close it when
// they are compared or read. A strike that has none is an empty Sheet and no error.
func (s *Store) Sheet(ctx context.Context, id glyph.Strike) (*Sheet, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	unlock, err := s.lock(ctx, shared)
	if err != nil {
		return nil, err
	}
	defer unlock()
	return s.sheet(id)
}

// Close ends the use of the sheet; its memory goes to another one.
func (s *Sheet) Close() {
	var r room
	if r.text = s.doc.close(); cap(r.text) > maxRoom {
		r.text = nil
	}
	if !s.given {
		r.lines = s.strike.approvals.glyphs
	}
	s.strike = nil
	s.store.mu.Lock()
	defer s.store.mu.Unlock()
	s.store.rooms = append(s.store.rooms, r)
}

func (s *Store) sheet(id glyph.Strike) (*Sheet, error) {
	files := s.files()
	defer files.Close()
	room := s.room()
	files.room = room.text
	base := place(id)
	out := &Sheet{store: s, strike: &Strike{ID: id, approvals: newApprovals()}}
	if data, err := files.read(base + ".approvals"); err == nil {
		if out.strike.approvals, err = readApprovals(data, room.lines); err != nil {
			return nil, fmt.Errorf("%s.approvals: %w", filepath.Join(s.dir, base), advised(err, restore))
		}
		files.room = data
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	doc, ending, err := files.document(base)
	if err != nil {
		return nil, err
	}
	out.doc, out.path = doc, filepath.Join(s.dir, base)+ending
	return out, nil
}

// begin finds the first golden, behind a header that must make sense alone, unless it was found before.
func (s *Sheet) begin() bool {
	if s.header != nil {
		return true
	}
	text := s.doc.ahead(piece)
	at := bytes.Index(text, []byte("\nCHARS "))
	if at < 0 {
		return false
	}
	end := bytes.IndexByte(text[at+1:], '\n')
	if end < 0 {
		return false
	}
	header := bytes.Clone(text[:at+1+end+1])
	if _, err := ParseBDF(append(bytes.Clone(header), endFont...)); err != nil {
		return false
	}
	s.doc.pass(len(header))
	s.header = header
	return true
}

// Approvals returns the strike with its approvals and without cells.
func (s *Sheet) Approvals() *Strike {
	s.given = true
	return s.strike
}

const endFont = "ENDFONT\n"

// Strike reads all goldens, those too that were met.
func (s *Sheet) Strike() (*Strike, error) {
	s.given = true
	if err := s.load(); err != nil {
		return nil, err
	}
	return s.strike, nil
}

// load reads the cells, once.
func (s *Sheet) load() error {
	if s.read || s.doc.none() {
		return nil
	}
	data, err := s.doc.whole()
	if err != nil {
		return fmt.Errorf("%s: %w", s.path, err)
	}
	font, err := ParseBDF(data)
	if err != nil {
		return fmt.Errorf("%s: %w", s.path, err)
	}
	index := s.indices(len(s.strike.approvals.glyphs), func(glyph.Key) bool { return true })
	last := 0 // a cell that nobody approved keeps its place behind the one before it
	for i := range font.Cells {
		c := &font.Cells[i]
		if n, ok := index[c.Key]; ok {
			c.Index = n
		} else if c.Code != glyph.NoCode {
			c.Index = last
		}
		last = c.Index
	}
	s.strike.Cells, s.read = font.Cells, true
	return nil
}

// Some reads the goldens of some glyphs and skips the others. It reads all of them where
// it must: where the file is not as WriteBDF writes it, or where nobody approved one of
// the glyphs, as its place then follows from its neighbours.
func (s *Sheet) Some(keys map[glyph.Key]bool) (*Strike, error) {
	some, ok := s.cut(keys)
	if !ok {
		return s.Strike()
	}
	font, err := ParseBDF(some)
	if err != nil {
		return s.Strike() // which says where
	}
	index := s.indices(len(keys), func(k glyph.Key) bool { return keys[k] })
	for i := range font.Cells {
		c := &font.Cells[i]
		n, ok := index[c.Key]
		if !ok {
			return s.Strike()
		}
		c.Index = n
	}
	s.strike.Cells, s.given = font.Cells, true
	return s.strike, nil
}

// cut is the document without the glyphs that are not wanted.
func (s *Sheet) cut(keys map[glyph.Key]bool) ([]byte, bool) {
	if !s.begin() {
		return nil, false
	}
	out := bytes.Clone(s.header)
	var key []byte
	for string(s.doc.ahead(len(endFont)+1)) != endFont {
		text := s.next()
		name, _, _ := bytes.Cut(bytes.TrimPrefix(text, []byte(glyphStart)), []byte("\n"))
		if !bytes.HasPrefix(text, []byte(glyphStart)) {
			return nil, false
		}
		if key = appendUnescaped(key[:0], bytes.TrimFunc(name, func(r rune) bool { return blank(byte(r)) })); keys[glyph.Key(key)] {
			out = append(out, text...)
		}
		s.doc.pass(len(text))
	}
	return append(out, endFont...), true
}

// next is the text of the golden that comes next, nil where none can be made out.
// Its end is looked for by a letter that no row has.
func (s *Sheet) next() []byte {
	const end, e = "\nENDCHAR\n", len("\nE")
	for n := 1 << 12; ; {
		text := s.doc.ahead(n)
		for from := 0; ; {
			at := bytes.Index(text[from:], []byte(end[e:]))
			if at < 0 {
				break
			}
			from += at + len(end) - e
			if bytes.HasSuffix(text[:from], []byte(end)) {
				return text[:from]
			}
		}
		if len(text) < n {
			return nil
		}
		n = 2 * len(text)
	}
}

// indices gives some n glyphs of the approvals the place that they had in their font.
func (s *Sheet) indices(n int, wanted func(glyph.Key) bool) map[glyph.Key]int {
	out := make(map[glyph.Key]int, n)
	for i := range s.strike.approvals.glyphs {
		if l := &s.strike.approvals.glyphs[i]; wanted(l.key) {
			out[l.key] = l.index
		}
	}
	return out
}
