package face

import (
	"errors"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Face is one font, read and checked. It is safe for use by many goroutines.
type Face interface {
	// Format is "TrueType", "CFF" or "Type 1".
	Format() string
	// UPEM is the number of font units per em.
	UPEM() int
	// Digest is a SHA-256 of all that the face is made of (for a collection, of
	// the tables that this index uses).
	Digest() [32]byte
	// Refs lists every glyph in index order, keys set and unique.
	Refs() []glyph.Ref
	// Advance is a glyph's linear advance width in 26.6 font units, 0 for an
	// index that the face does not have.
	Advance(index int) fixed.Int26_6
	// Design returns the unhinted outline of a glyph with its declared stems
	// and the face's zones.
	Design(index int) (*glyph.Design, error)
}

var (
	// ErrInvalid is in the chain of every error about a font that breaks its format.
	ErrInvalid = errors.New("invalid font")
	// ErrUnsupported is in the chain of every error about a valid font that this program cannot read.
	ErrUnsupported = errors.New("unsupported font")
)
