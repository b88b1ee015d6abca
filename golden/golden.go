package golden

import (
	"encoding/hex"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"smokeproof/harness/glyph"
)

// Store is the folder of approved bitmaps: FACE/DPI/SIZE.bdf, with an
// approvals file beside each. It is safe for many goroutines and processes.
type Store struct {
	dir  string
	Gzip bool // write new strikes as .bdf.gz
}

// Open names a store; the folder need not exist yet.
func Open(dir string) *Store { return &Store{dir: dir} }

// Strike is the approved bitmaps of one strike.
type Strike struct {
	ID        glyph.Strike
	Cells     []glyph.Cell // in index order
	approvals *approvals
}

// Verdict is what a person decided about one glyph.
type Verdict string

const (
	Approve Verdict = "approve"
	Reject  Verdict = "reject"
	Later   Verdict = "later" // put off, until a date or without end
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
}

// Standing is the decision to reject or put off that speaks about this very
// candidate, given by its hex digest.
func (s *Strike) Standing(key glyph.Key, digest string) (Decision, bool) {
	raw, err := hex.DecodeString(digest)
	if s.approvals == nil || err != nil || len(raw) < mark {
		return Decision{}, false
	}
	want := encodeMark(raw)
	for _, l := range s.approvals.glyphs {
		act := s.approvals.acts[l.act]
		if l.key == key && l.digest == want && act != nil && act.verdict != Approve {
			return Decision{Verdict: act.verdict, By: act.by, Why: act.why, When: act.when, Until: act.until}, true
		}
	}
	return Decision{}, false
}

// place is the path of a strike's files, without ending, below the store.
func place(id glyph.Strike) string {
	dpi := id.DPI.String()
	if id.Mode == glyph.Grey {
		dpi += "-grey"
	}
	return filepath.Join(fileName(id.Face), dpi, id.Size.String())
}

// fileName makes a name from a plan a single safe path element. Letters that
// differ by case alone get different names, for disks that are blind to it.
func fileName(name string) string {
	var sb strings.Builder
	for _, b := range []byte(name) {
		switch {
		case b >= 'a' && b <= 'z', b >= '0' && b <= '9', b == '-', b == '_', b == '.' && sb.Len() > 0:
			sb.WriteByte(b)
		case b >= 'A' && b <= 'Z':
			sb.WriteString("+" + string(b+'a'-'A'))
		default:
			fmt.Fprintf(&sb, "%%%02x", b)
		}
	}
	return sb.String()
}

// merge puts approved candidates among the goldens there are, in index order.
func merge(cells []glyph.Cell, ds []Decision) []glyph.Cell {
	at := make(map[glyph.Key]int, len(cells))
	for i := range cells {
		at[cells[i].Key] = i
	}
	for _, d := range ds {
		if d.Verdict != Approve {
			continue
		}
		c := d.Cell
		c.Bitmap = c.Bitmap.Tight()
		if i, ok := at[c.Key]; ok {
			cells[i] = c
		} else {
			at[c.Key] = len(cells)
			cells = append(cells, c)
		}
	}
	slices.SortStableFunc(cells, func(a, b glyph.Cell) int { return a.Index - b.Index })
	return cells
}
