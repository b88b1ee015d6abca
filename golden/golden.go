// Package golden keeps the bitmaps that people approved, and who approved which, when
// and why. It knows no font and no screen: it takes [glyph.Cell]s and decisions.
//
// A strike is one BDF 2.1 document (Adobe TN 5005) with its approvals beside it, in a
// folder that a [Store] alone writes to: under a lock, by files put aside and moved into
// place, so that a writer killed at any moment leaves the old strike or the new one.
// [Store.Load] reads a strike, [Store.Record] decides on it, [Store.Verify] proves that
// every golden is what was approved; a [Sheet] holds candidates against the file
// without reading it where they are equal.
//
//	store.go store_files.go place.go         the folder: a strike loaded and changed; its paths
//	atomic.go aside.go lock*.go folder*.go   writing whole or not at all; reading with few calls
//	by_git.go revision.go versions.go        what git did to a file; the store at a revision; what a file was
//	approvals*.go act.go tally.go            who decided what: the file, an act, the sums that bind both
//	golden.go settled.go verify.go           goldens with their decisions, and the proof
//	sheet*.go document.go seal.go            candidates held against a file that is not read
//	bdf*.go hex_row.go font.go gunzip.go     BDF, the store's own format
//	pcf*.go pk_read.go sfnt_strikes.go       other formats
//	picture*.go art.go cursor.go             pictures, text, and numbers out of untrusted bytes
//	file_name.go                             names as files
//
// Beside BDF it reads PCF, PK, the strikes inside TrueType fonts, pictures and text art, a file
// a format. Y grows up; rows inside a bitmap run top to bottom, as in BDF.
package golden

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"sync"
	"time"

	"smokeproof/harness/glyph"
)

// Store is the folder of approved bitmaps: FACE/DPI/SIZE.bdf, with an
// approvals file beside each. It is safe for many goroutines and processes.
type Store struct {
	dir  string
	past *revision // nil: the folder as it is now
	Gzip bool      // write strikes as .bdf.gz

	mu    sync.Mutex
	rooms []room
}

// Open names a store; the folder need not exist yet.
func Open(dir string) *Store { return &Store{dir: dir} }

// Strike is the approved bitmaps of one strike.
type Strike struct {
	ID        glyph.Strike
	Cells     []glyph.Cell // in index order
	approvals *approvals
	approved  *settled                   // once it has been asked for
	open      map[glyph.Key][]*glyphLine // rejections and delays, once they have been asked for
}

// Verdict is what a person decided about one glyph.
type Verdict string

const (
	Approve Verdict = "approve"
	Reject  Verdict = "reject"
	Later   Verdict = "later" // put off, until a date or without end
	Gone    Verdict = "gone"  // the glyph is no more: its golden is dropped
)

// Decision is one act of one person on one glyph of one strike.
type Decision struct {
	Cell       glyph.Cell // the candidate decided upon
	Verdict    Verdict
	By, Why    string
	When       time.Time
	Until      time.Time // for Reject and Later: check fails again after it; zero means no end
	FaceDigest [32]byte
	Renderer   glyph.Identity
	Severity   string // of the worst finding against the golden it replaces; "" if new
	// Over is the digest of the golden that the person saw, the zero digest where there
	// was none. Record refuses the decision if the golden is another one by now. Where
	// Over is nil, Record does not look.
	Over *[sha256.Size]byte
}

// Approved reports whether somebody approved exactly this golden. Where there are no
// approvals at hand, as in a comparison of two fonts, every golden counts as approved.
func (s *Strike) Approved(c *glyph.Cell) bool {
	if s.approvals == nil {
		return true
	}
	l := s.line(c.Ref)
	if l == nil {
		return false
	}
	digest := c.Digest()
	return l.marks(digest[:])
}

// ApprovedBy says who approved a golden of a glyph and on which day, whether its bitmap is there or not;
// "" where nobody did, or the approvals are not at hand.
func (s *Strike) ApprovedBy(ref glyph.Ref) string {
	if s.approvals == nil {
		return ""
	}
	l := s.line(ref)
	if l == nil {
		return ""
	}
	return l.act.by + " on " + l.act.when.Format(time.DateOnly)
}

// ApprovedOf is the start of the digest of the face that a glyph's golden was approved of, in hex; "" where
// nobody approved one, or the approvals are not at hand.
func (s *Strike) ApprovedOf(ref glyph.Ref) string {
	if s.approvals == nil {
		return ""
	}
	if l := s.line(ref); l != nil {
		return l.act.face
	}
	return ""
}

// line is the approval of a glyph's golden; nil where it has none.
func (s *Strike) line(ref glyph.Ref) *glyphLine { return s.settled().of(ref) }

func (s *Strike) settled() *settled {
	if s.approved == nil {
		s.approved = s.approvals.approved()
	}
	return s.approved
}

// Disputed lists the glyphs on which two branches of git decided differently.
func (s *Strike) Disputed() []glyph.Key {
	if s.approvals == nil {
		return nil
	}
	var out []glyph.Key
	for _, d := range s.approvals.disputes() {
		out = append(out, d.one.key)
	}
	return out
}

// Standing returns the decision that rejected or put off exactly this candidate, which
// is given by its digest in hex.
func (s *Strike) Standing(key glyph.Key, digest string) (Decision, bool) {
	if s.open == nil {
		s.open = s.approvals.open()
	}
	lines := s.open[key]
	raw, err := hex.DecodeString(digest)
	if len(lines) == 0 || err != nil || len(raw) < mark {
		return Decision{}, false
	}
	want := encodeMark(raw)
	for _, l := range lines {
		if l.digest == want {
			return Decision{Verdict: l.act.verdict, By: l.act.by, Why: l.act.why, When: l.act.when, Until: l.act.until}, true
		}
	}
	return Decision{}, false
}

// open lists the lines that reject or put off, by their glyphs.
func (a *approvals) open() map[glyph.Key][]*glyphLine {
	out := map[glyph.Key][]*glyphLine{}
	for i := 0; a != nil && i < len(a.glyphs); i++ {
		if l := &a.glyphs[i]; !l.act.verdict.settles() {
			out[l.key] = append(out[l.key], l)
		}
	}
	return out
}

// merge puts approved candidates among the goldens there are, in index order,
// and takes those out that are gone.
func merge(cells []glyph.Cell, ds []Decision) []glyph.Cell {
	at := make(map[glyph.Key]int, len(cells))
	for i := range cells {
		at[cells[i].Key] = i
	}
	gone := map[glyph.Key]bool{}
	if len(cells) == 0 {
		cells = make([]glyph.Cell, 0, len(ds))
	}
	for i := range ds {
		d := &ds[i]
		switch d.Verdict {
		case Approve:
			cells = setCell(cells, at, d.Cell)
			delete(gone, d.Cell.Key)
		case Gone:
			gone[d.Cell.Key] = true
		}
	}
	cells = slices.DeleteFunc(cells, func(c glyph.Cell) bool { return gone[c.Key] })
	slices.SortStableFunc(cells, func(a, b glyph.Cell) int { return a.Index - b.Index })
	return cells
}

// setCell sets one cell in its place, or at the end.
func setCell(cells []glyph.Cell, at map[glyph.Key]int, c glyph.Cell) []glyph.Cell {
	c.Bitmap = c.Bitmap.Tight()
	if i, ok := at[c.Key]; ok {
		cells[i] = c
		return cells
	}
	at[c.Key] = len(cells)
	return append(cells, c)
}
