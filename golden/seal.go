package golden

import (
	"fmt"
	"hash/crc32"

	"smokeproof/harness/glyph"
)

// castagnoli is the polynomial of CRC-32C (RFC 3720, section 12.1): processors have an instruction for it.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sealOf is the seal of a strike: the CRC-32C of its document with the approvals' glyph lines behind it. A writer
// seals goldens that are what was approved, none of them missing. Where the seal holds, a
// candidate can be held against the digest that was approved, and its golden need not be read.
//
// A merge or an editor breaks the seal, which costs the reading of the goldens. Who forges one hides from check
// that a golden is another than was approved; but no candidate passes that nobody approved, and
// Verify does not go by seals.
func sealOf(document uint32, lines []byte) string {
	return fmt.Sprintf("%08x", crc32.Update(document, castagnoli, lines))
}

// Mark is what an approval keeps of a cell's digest. Cells of one mark have one bitmap, in one place, and one advance. The zero
// Mark is that of none.
type Mark [mark * 4 / 3]byte

// Mark is that of a golden that a candidate met.
func (s *Sheet) Mark(ref glyph.Ref) (m Mark) {
	copy(m[:], s.strike.line(ref).digest)
	return m
}

// Bears reports what Same would of a glyph's candidate, of which only the mark is known.
func (s *Sheet) Bears(m Mark, ref glyph.Ref) bool {
	l := s.unmet(ref)
	return l != nil && l.digest == string(m[:])
}

// Pass meets the golden of a glyph, for which Bears was true.
func (s *Sheet) Pass(ref glyph.Ref) { s.meet(s.unmet(ref)) }
