package face

import "fmt"

// readEncoding gives the glyphs that a font's own Encoding puts at codes, 0 where
// there is none (TN5176, section 12). The predefined Encodings, Standard and
// Expert, give none: the names of their glyphs tell the characters.
func readEncoding(b []byte, at int, charset []uint16) (glyphs [256]int, err error) {
	if at == 0 || at == 1 {
		return glyphs, nil
	}
	r := reader{b: b, at: min(max(at, 0), len(b))}
	format, n, next := r.u8(), int(r.u8()), 1
	put := func(code int) {
		if next < len(charset) && code < len(glyphs) && !r.short {
			glyphs[code] = next
		}
		next++
	}
	switch format &^ supplemented {
	case 0:
		for range n {
			put(int(r.u8()))
		}
	case 1:
		for range n {
			first, more := int(r.u8()), int(r.u8())
			for code := first; code <= first+more; code++ {
				put(code)
			}
		}
	default:
		return glyphs, fmt.Errorf("%w: CFF: an Encoding of format %d at byte %d, must be 0 or 1", ErrInvalid, format&^supplemented, at)
	}
	if format&supplemented != 0 {
		glyphOf := map[uint16]int{}
		for i, id := range charset {
			glyphOf[id] = i
		}
		for range r.u8() {
			code, id := r.u8(), r.u16()
			glyphs[code] = glyphOf[id]
		}
	}
	if r.short {
		return glyphs, fmt.Errorf("%w: CFF: the Encoding at byte %d is cut short", ErrInvalid, at)
	}
	return glyphs, nil
}

// supplemented is the bit of an Encoding's format that says more codes follow.
const supplemented = 0x80
