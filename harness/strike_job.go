package harness

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"
	"sync"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// StrikeJob is one strike of a run and the glyphs to draw in it.
type StrikeJob struct {
	Strike glyph.Strike
	Face   *PlanFace
	Device *Device
	glyphs *glyphList
	place  int // in the whole run, from 0
}

// Glyphs lists the glyphs to draw, in index order.
func (s *StrikeJob) Glyphs() []glyph.Ref { return s.glyphs.refs() }

// Count is how many glyphs there are to draw.
func (s *StrikeJob) Count() int { return s.glyphs.count }

func (s *StrikeJob) job() *render.Job {
	return &render.Job{Font: s.Face.File, Index: s.Face.Index, Strike: s.Strike, Fill: s.Device.Fill, Glyphs: s.Glyphs()}
}

// only is the same strike with some of its glyphs.
func (s *StrikeJob) only(refs []glyph.Ref) *StrikeJob {
	some := *s
	some.glyphs = listOf(refs)
	return &some
}

// glyphList is the glyphs of a face that a run selects, told apart from every
// other list by its digest. Both are worked out when somebody asks for them: where
// nothing changed, nobody asks for the glyphs, and without cache, for the digest.
type glyphList struct {
	refs   func() []glyph.Ref
	count  int
	digest func() string // SHA-256, hex
}

func listOf(refs []glyph.Ref) *glyphList {
	return &glyphList{
		refs: func() []glyph.Ref { return refs }, count: len(refs),
		digest: sync.OnceValue(func() string { return refsDigest(refs) }),
	}
}

// wholeFace says that plan and filter select every glyph of a face.
func (r *Run) wholeFace(f *PlanFace) bool {
	return f.Glyphs.All() && r.options.Filter.Glyphs.All()
}

// selected lists the glyphs of a face that plan and filter select.
func (r *Run) selected(f *PlanFace, fc face.Face) *glyphList {
	if !r.wholeFace(f) {
		return listOf(slices.DeleteFunc(slices.Clone(fc.Refs()), func(ref glyph.Ref) bool {
			return !f.Glyphs.Has(ref) || !r.options.Filter.Glyphs.Has(ref)
		}))
	}
	if known, ok := fc.(*rememberedFace); ok {
		return known.list
	}
	return listOf(fc.Refs())
}

// refsDigest tells one list of glyphs from every other.
func refsDigest(refs []glyph.Ref) string {
	size := 0
	for i := range refs {
		size += len(refs[i].Key) + len(refs[i].Name) + 16
	}
	b := make([]byte, 0, size)
	for i := range refs {
		r := &refs[i]
		for _, s := range [...]string{string(r.Key), r.Name} {
			b = binary.BigEndian.AppendUint32(b, uint32(len(s)))
			b = append(b, s...)
		}
		b = binary.BigEndian.AppendUint32(b, uint32(r.Code))
		b = binary.BigEndian.AppendUint32(b, uint32(r.Index))
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
