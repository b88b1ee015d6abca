package harness

import (
	"encoding/binary"

	"smokeproof/harness/glyph"
)

// appendRefs writes glyphs down: numbers as varints, strings with their lengths.
// A key that is the glyph's name is left empty.
func appendRefs(b []byte, refs []glyph.Ref) []byte {
	put := func(s string) { b = append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	b = binary.AppendUvarint(b, uint64(len(refs)))
	for i := range refs {
		r := &refs[i]
		b = binary.AppendUvarint(b, uint64(r.Index))
		b = binary.AppendVarint(b, int64(r.Code))
		put(r.Name)
		if string(r.Key) == r.Name {
			put("")
		} else {
			put(string(r.Key))
		}
	}
	return b
}

func readRefs(b []byte) ([]glyph.Ref, error) {
	text := string(b) // all strings are parts of it
	at, torn := 0, false
	number := func() int {
		v, n := binary.Uvarint(b[at:])
		torn = torn || n <= 0
		at += max(n, 0)
		return int(v)
	}
	word := func() string {
		n := number()
		if n < 0 || n > len(text)-at {
			torn = true
			return ""
		}
		at += n
		return text[at-n : at]
	}
	n := number()
	if torn || n < 0 || n > len(b) {
		return nil, errTorn
	}
	refs := make([]glyph.Ref, n)
	for i := range refs {
		r := &refs[i]
		r.Index = number()
		code, n := binary.Varint(b[at:])
		at += max(n, 0)
		r.Code, r.Name = rune(code), word()
		if r.Key = glyph.Key(word()); r.Key == "" {
			r.Key = glyph.Key(r.Name)
		}
		if torn || n <= 0 {
			return nil, errTorn
		}
	}
	return refs, nil
}
