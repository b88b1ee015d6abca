package golden

import (
	"context"
	"time"

	"smokeproof/harness/glyph"
)

// Store is the folder of approved bitmaps: FACE/DPI/SIZE.bdf, with an
// approvals file beside each.
type Store struct{ dir string }

// Open names a store; the folder need not exist yet.
func Open(dir string) *Store { return &Store{dir: dir} }

// Strike is the approved bitmaps of one strike.
type Strike struct {
	ID    glyph.Strike
	Cells []glyph.Cell // in index order
}

// Load reads one strike's goldens. A strike that has none is an empty Strike
// and no error.
func (s *Store) Load(ctx context.Context, id glyph.Strike) (*Strike, error) { panic("being written") }

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

// Record stores decisions on one strike: approved cells become goldens, every
// decision is written to the approvals file, both or neither.
func (s *Store) Record(ctx context.Context, id glyph.Strike, ds []Decision) error {
	panic("being written")
}

// Problem is one disagreement between goldens and approvals.
type Problem struct {
	Path  string // of the file, relative to the store
	Glyph glyph.Key
	Text  string
}

// Verify proves that every golden of the store is what was approved.
func (s *Store) Verify(ctx context.Context) ([]Problem, error) { panic("being written") }
