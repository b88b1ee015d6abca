package golden

import (
	"hash/maphash"

	"smokeproof/harness/glyph"
)

// Seal identifies a golden that was found equal to its candidate and approved: it is a hash of its text
// and of the approved bitmap's digest. It is valid as long as the program runs. The zero Seal identifies none.
type Seal struct {
	hash  uint64
	size  int32 // of the text, in bytes
	depth int32
}

// sealText and sealMark are drawn anew for each run, so that nobody can make two goldens that have one seal.
var sealText, sealMark = maphash.MakeSeed(), maphash.MakeSeed()

func sealOf(text []byte, l *glyphLine) uint64 {
	return maphash.Bytes(sealText, text) + maphash.String(sealMark, l.digest)
}

// Seal is that of the golden for which Same was true last; ref is its glyph.
func (s *Sheet) Seal(ref glyph.Ref) Seal {
	return Seal{hash: sealOf(s.same, s.strike.line(ref)), size: int32(len(s.same)), depth: int32(s.depth)}
}

// Bears reports whether the next golden of the file has this seal, and was approved as this glyph's.
func (s *Sheet) Bears(seal Seal, ref glyph.Ref) bool {
	text := s.doc.ahead(int(seal.size))
	if seal == (Seal{}) || s.depth != int(seal.depth) || len(text) < int(seal.size) {
		return false
	}
	l := s.strike.line(ref)
	return l != nil && sealOf(text[:seal.size], l) == seal.hash
}

// Pass moves past a golden for which Bears was true.
func (s *Sheet) Pass(seal Seal) {
	s.doc.pass(int(seal.size))
	s.passed++
}
