package golden

import (
	"bytes"
	"encoding/binary"

	"smokeproof/harness/glyph"
)

// written is the length of a glyph's text at the start of doc, if it stands there
// letter for letter as appendGlyph writes it with this head; 0 if not. The rows are
// held against the text without being written: eight digits at a time, and what
// differs is gathered, for nearly always nothing does.
func written(doc, head []byte, t *glyph.Bitmap) int {
	digits := rowDigits(t)
	rows := len(head)
	foot := rows + t.Height*(digits+1)
	end := foot + len(glyphFoot)
	if end > len(doc) || string(doc[foot:end]) != glyphFoot || !bytes.HasPrefix(doc, head) {
		return 0
	}
	if digits > 0 && rowsDiffer(doc[rows:end], t, digits) {
		return 0
	}
	return end
}

// rowsDiffer wants eight bytes of text behind the rows.
func rowsDiffer(text []byte, t *glyph.Bitmap, digits int) bool {
	differ := uint64(0)
	if digits <= 8 {
		unused := 64 - 8*digits
		for _, w := range t.Words[:t.Height] {
			differ |= (eightDigits(w>>32) ^ binary.BigEndian.Uint64(text)) >> unused
			differ |= uint64(text[digits] ^ '\n')
			text = text[digits+1:]
		}
		return differ != 0
	}
	for y := range t.Height {
		row := t.Row(y)
		for at := 0; at < digits; at += 8 {
			half := row[at/16] >> (32 - 4*(at&8)) & 0xFFFFFFFF
			unused := max(64-8*(digits-at), 0)
			differ |= (eightDigits(half) ^ binary.BigEndian.Uint64(text[at:])) >> unused
		}
		differ |= uint64(text[digits] ^ '\n')
		text = text[digits+1:]
	}
	return differ != 0
}
