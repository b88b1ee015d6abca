package golden

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"smokeproof/harness/glyph"
)

// Sheet is the goldens of one strike as they lie on disk, to compare candidates with
// goldens that are not parsed. A candidate that WriteBDF would write letter for letter as
// its golden is written is equal to it. A sheet is walked in the order of its file, by
// Same, Next, and Bears with Pass; what has another order is read by Strike or Some.
type Sheet struct {
	store  *Store
	strike *Strike // its cells not read yet
	given  bool    // the strike, which is its taker's then
	path   string  // for messages
	doc    document
	header []byte // of the document, up to the first golden
	depth  int    // of the font; 0 where the text is not as WriteBDF has it
	passed int    // goldens
	same   []byte // text of the golden that Same passed on last
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
	out, err := s.open(ctx, id)
	if err == nil {
		out.begin()
	}
	return out, err
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

// open opens a strike's files under the shared lock.
func (s *Store) open(ctx context.Context, id glyph.Strike) (*Sheet, error) {
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

// begin finds the first glyph, behind a header that must make sense alone.
func (s *Sheet) begin() {
	text := s.doc.ahead(piece)
	at := bytes.Index(text, []byte("\nCHARS "))
	if at < 0 {
		return
	}
	end := bytes.IndexByte(text[at+1:], '\n')
	if end < 0 {
		return
	}
	s.header = bytes.Clone(text[:at+1+end+1])
	s.doc.pass(len(s.header))
	if f, err := ParseBDF(append(bytes.Clone(s.header), endFont...)); err == nil {
		s.depth = f.Depth
	}
}

// Same reports whether the next golden of the file is this candidate's, is equal to it
// and was approved; if so the sheet moves past it. If not, the two may still be equal:
// read the golden by Next or Strike. The candidate's bitmap must be tight.
func (s *Sheet) Same(c *glyph.Cell) bool {
	if s.depth != c.Bitmap.Depth {
		return false
	}
	s.text = appendHead(s.text[:0], c, &c.Bitmap)
	size := len(s.text) + c.Bitmap.Height*(rowDigits(&c.Bitmap)+1) + len(glyphFoot)
	if !written(s.doc.ahead(size), s.text, &c.Bitmap) || !s.approved(c) {
		return false
	}
	s.same = s.doc.view[:size]
	s.doc.pass(size)
	s.passed++
	return true
}

// Next reads the next golden of the file if it is this glyph's and was approved, and
// moves past it. Otherwise it returns nil: the glyph has its golden elsewhere in the file,
// where Strike finds it, or has none.
func (s *Sheet) Next(ref glyph.Ref) *glyph.Cell {
	if s.depth == 0 {
		return nil
	}
	l, text := s.strike.line(ref), s.next()
	if l == nil || text == nil {
		return nil
	}
	font, err := ParseBDF(slices.Concat(s.header, text, []byte(endFont)))
	if err != nil || len(font.Cells) != 1 || font.Cells[0].Key != ref.Key {
		return nil
	}
	s.doc.pass(len(text))
	s.passed++
	font.Cells[0].Index = l.index
	return &font.Cells[0]
}

// Approvals returns the strike with its approvals and without cells.
func (s *Sheet) Approvals() *Strike {
	s.given = true
	return s.strike
}

// approved is Strike.Approved for a candidate of which no copy need be made: a
// bitmap that is not tight has another digest here, and is not approved.
func (s *Sheet) approved(c *glyph.Cell) bool {
	l := s.strike.line(c.Ref)
	if l == nil {
		return false
	}
	s.text = c.AppendSigned(s.text[:0])
	digest := sha256.Sum256(s.text)
	return l.marks(digest[:])
}

// Done reports whether the sheet has moved past the last golden.
func (s *Sheet) Done() bool { return s.depth != 0 && string(s.doc.ahead(len(endFont)+1)) == endFont }

const endFont = "ENDFONT\n"

// Passed counts the goldens that the sheet has moved past: as many of the first cells
// that Strike returns.
func (s *Sheet) Passed() int { return s.passed }

// Strike reads all goldens, those too that the sheet has moved past.
func (s *Sheet) Strike() (*Strike, error) {
	s.given = true
	if s.doc.none() {
		return s.strike, nil
	}
	data, err := s.doc.whole()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.path, err)
	}
	font, err := ParseBDF(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.path, err)
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
	s.strike.Cells = font.Cells
	return s.strike, nil
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
	if s.depth == 0 {
		return nil, false
	}
	out := bytes.Clone(s.header)
	var key []byte
	for !s.Done() {
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
