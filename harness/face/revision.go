package face

import (
	"math"
	"slices"
	"sync"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Revision is a font beside the one that it was before.
type Revision struct {
	old, now Face
	scale    float64 // units per em of now to those of old
	tables   string  // what TrueType glyphs have in common and differs
	was      map[glyph.Key]int
	wasCode  map[rune]int // for glyphs of other names
	oldParts [][16]byte   // of TrueType
	newParts [][16]byte
	copies   sync.Map // what copied found, by both indices
	anew     sync.Once
	isAnew   bool // what hintedAnew found
	unhinted bool // no glyph has hints now; it finds that too
}

// NewRevision holds a font against the one that it was.
func NewRevision(old, now Face) *Revision {
	r := &Revision{old: old, now: now, scale: float64(now.UPEM()) / float64(old.UPEM()), was: map[glyph.Key]int{}, wasCode: map[rune]int{}}
	for _, ref := range old.Refs() {
		r.was[ref.Key], r.wasCode[ref.Code] = ref.Index, ref.Index
	}
	a, trueType := old.(*TrueType)
	b, both := now.(*TrueType)
	if trueType && both {
		r.tables = sentence(r.differences(a, b))
		r.oldParts, r.newParts = PartsOf(a).Glyphs, PartsOf(b).Glyphs
	}
	return r
}

// common is what differs of all that a glyph has in common with others, as control values or alignment
// zones; "" where nothing does, or the formats differ.
func (r *Revision) common(was, now int) string {
	a, old := r.old.(PostScript)
	b, is := r.now.(PostScript)
	if old && is {
		return sentence(r.entries(a.Private(was), b.Private(now)))
	}
	return r.tables
}

// former is the glyph that one was before, by its name or its character.
func (r *Revision) former(now glyph.Ref) (was int, ok bool) {
	was, ok = r.was[now.Key]
	if !ok && now.Code != glyph.NoCode {
		was, ok = r.wasCode[now.Code]
	}
	return was, ok
}

// is says that a length of the old font is one of the new: the same, or where the em was scaled the
// same to the unit that rounding may take.
func (r *Revision) is(old, now fixed.Int26_6) bool {
	if r.scale == 1 {
		return old == now
	}
	const unit = 64
	return math.Abs(float64(old)*r.scale-float64(now)) <= unit
}

// isFU is is for whole units.
func (r *Revision) isFU(old, now glyph.FUnit) bool {
	return r.is(fixed.Int26_6(old)<<6, fixed.Int26_6(now)<<6)
}

// isEach says it of lists.
func (r *Revision) isEach(old, now []float64) bool {
	return slices.EqualFunc(old, now, func(a, b float64) bool {
		return r.is(fixed.Int26_6(math.Round(a*64)), fixed.Int26_6(math.Round(b*64)))
	})
}
