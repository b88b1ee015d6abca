package golden

import (
	"bytes"
	"encoding/binary"

	"smokeproof/harness/glyph"
)

// written says that a glyph's text stands at the start of doc, letter for letter as
// appendGlyph writes it with this head. The rows are held against the text without
// being written: eight digits at a time, and what differs is gathered, for nearly
// always nothing does.
func written(doc, head []byte, t *glyph.Bitmap) bool {
	digits := rowDigits(t)
	rows := len(head)
	foot := rows + t.Height*(digits+1)
	end := foot + len(glyphFoot)
	return end <= len(doc) && string(doc[foot:end]) == glyphFoot && bytes.HasPrefix(doc, head) &&
		(digits == 0 || !rowsDiffer(doc[rows:end], t, digits))
}

// rowsDiffer wants eight bytes of text behind the rows.
func rowsDiffer(text []byte, t *glyph.Bitmap, digits int) bool {
	if digits > 8 {
		return wideRowsDiffer(text, t, digits)
	}
	differ, unused := uint64(0), (64-8*digits)&63
	for _, w := range t.Words[:t.Height] {
		differ |= (eightDigits(w>>32)^binary.BigEndian.Uint64(text))>>unused | uint64(text[digits]^'\n')
		text = text[digits+1:]
	}
	return differ != 0
}

// wideRowsDiffer takes rows of more than eight digits: some whole words of sixteen, and
// the last word's, sixteen or less.
func wideRowsDiffer(text []byte, t *glyph.Bitmap, digits int) bool {
	whole, differ := (digits-1)/16, uint64(0)
	rest := digits - 16*whole
	unused := (64 - 8*((rest-1)&7+1)) & 63
	for y := range t.Height {
		row := t.Row(y)
		for _, w := range row[:whole] {
			differ |= eightDigits(w>>32) ^ binary.BigEndian.Uint64(text)
			differ |= eightDigits(w&0xFFFFFFFF) ^ binary.BigEndian.Uint64(text[8:])
			text = text[16:]
		}
		w, at := row[whole], 0
		if rest > 8 {
			differ |= eightDigits(w>>32) ^ binary.BigEndian.Uint64(text)
			w, at = w<<32, 8
		}
		differ |= (eightDigits(w>>32)^binary.BigEndian.Uint64(text[at:]))>>unused | uint64(text[rest]^'\n')
		text = text[rest+1:]
	}
	return differ != 0
}
