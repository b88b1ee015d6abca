package face

import (
	"encoding/binary"

	"smokeproof/harness/glyph"
)

// readCmap gives each glyph, by index, the lowest code point that maps to it, a radical
// only where there is no other, or NoCode. It takes the fullest Unicode subtable, else the symbol one; formats 0, 4,
// 6, 10, 12 and 13 (OpenType, "cmap"). Damage costs the mappings behind it, never
// the face.
func readCmap(b []byte, glyphs int) []rune {
	codes := make([]rune, glyphs)
	for i := range codes {
		codes[i] = glyph.NoCode
	}
	sub, symbol := chooseCmap(b)
	if sub == nil {
		return codes
	}
	eachMapping(sub, func(code uint32, gid int) {
		if symbol && code >= 0xF000 && code <= 0xF0FF {
			code -= 0xF000
		}
		if gid <= 0 || gid >= glyphs || code > 0x10FFFF {
			return
		}
		if old, now := codes[gid], rune(code); old == glyph.NoCode || radical(old) && !radical(now) || radical(old) == radical(now) && now < old {
			codes[gid] = now
		}
	})
	return codes
}

// radical says that a code point stands for a radical and not for the ideograph that looks like it, which text is
// written with (Unicode Standard, "CJK and Kangxi Radicals").
func radical(r rune) bool { return r >= 0x2E80 && r <= 0x2FDF }

// chooseCmap prefers full Unicode, then the BMP, then symbols.
func chooseCmap(b []byte) (sub []byte, symbol bool) {
	if len(b) < 4 {
		return nil, false
	}
	best := 0
	for i := range int(binary.BigEndian.Uint16(b[2:])) {
		at := 4 + 8*i
		if at+8 > len(b) {
			break
		}
		platform, encoding := binary.BigEndian.Uint16(b[at:]), binary.BigEndian.Uint16(b[at+2:])
		off := int(binary.BigEndian.Uint32(b[at+4:]))
		rank := 0
		switch {
		case platform == 3 && encoding == 10, platform == 0 && (encoding == 4 || encoding == 6):
			rank = 4
		case platform == 3 && encoding == 1, platform == 0 && encoding < 4:
			rank = 3
		case platform == 3 && encoding == 0:
			rank = 2
		}
		if rank > best && off < len(b)-6 {
			best, sub, symbol = rank, b[off:], rank == 2
		}
	}
	return sub, symbol
}

func eachMapping(b []byte, yield func(code uint32, gid int)) {
	switch binary.BigEndian.Uint16(b) {
	case 0:
		for i := 6; i < min(len(b), 262); i++ {
			yield(uint32(i-6), int(b[i]))
		}
	case 4:
		eachSegment(b, yield)
	case 6:
		if len(b) >= 10 {
			trimmed(b[10:], uint32(binary.BigEndian.Uint16(b[6:])), int(binary.BigEndian.Uint16(b[8:])), yield)
		}
	case 10:
		if len(b) >= 20 {
			trimmed(b[20:], binary.BigEndian.Uint32(b[12:]), int(binary.BigEndian.Uint32(b[16:])), yield)
		}
	case 12, 13:
		eachGroup(b, yield)
	}
}

func trimmed(b []byte, first uint32, n int, yield func(uint32, int)) {
	for i := range min(n, len(b)/2) {
		yield(first+uint32(i), int(binary.BigEndian.Uint16(b[2*i:])))
	}
}

// eachSegment walks format 4. Segments ascend; one that reaches back counts from
// where the last ended, so that no file makes a code point cost more than once
// or stand for two glyphs.
func eachSegment(b []byte, yield func(uint32, int)) {
	if len(b) < 16 {
		return
	}
	n := int(binary.BigEndian.Uint16(b[6:])) / 2
	if 16+8*n > len(b) {
		return
	}
	ends, starts, deltas, offsets := b[14:], b[16+2*n:], b[16+4*n:], b[16+6*n:]
	next := uint32(0)
	for i := range n {
		start, end := uint32(binary.BigEndian.Uint16(starts[2*i:])), uint32(binary.BigEndian.Uint16(ends[2*i:]))
		delta, off := binary.BigEndian.Uint16(deltas[2*i:]), int(binary.BigEndian.Uint16(offsets[2*i:]))
		from := max(start, next)
		next = max(next, end+1)
		for code := from; code <= end && code < 0xFFFF; code++ {
			if off == 0 {
				yield(code, int(uint16(code)+delta))
				continue
			}
			at := 2*i + off + 2*int(code-start)
			if at+2 > len(offsets) {
				break
			}
			if g := binary.BigEndian.Uint16(offsets[at:]); g != 0 {
				yield(code, int(g+delta))
			}
		}
	}
}

// eachGroup walks formats 12 and 13; groups that reach back are cut as segments are.
func eachGroup(b []byte, yield func(uint32, int)) {
	if len(b) < 16 {
		return
	}
	next := uint32(0)
	many := binary.BigEndian.Uint16(b) == 13
	for i := range min(int(binary.BigEndian.Uint32(b[12:])), (len(b)-16)/12) {
		g := b[16+12*i:]
		start, end, gid := binary.BigEndian.Uint32(g), binary.BigEndian.Uint32(g[4:]), binary.BigEndian.Uint32(g[8:])
		if end > 0x10FFFF || start > end {
			continue
		}
		from := max(start, next)
		next = max(next, end+1)
		for code := from; code <= end; code++ {
			id := gid
			if !many {
				id += code - start
			}
			if id > 0xFFFF {
				break
			}
			yield(code, int(id))
		}
	}
}
