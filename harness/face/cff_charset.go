package face

import (
	"encoding/binary"
	"fmt"
)

// Predefined charsets as runs of string ids, first and last (TN5176, appendix C).
var (
	isoAdobeCharset = [][2]uint16{{0, 228}}
	expertCharset   = [][2]uint16{{0, 1}, {229, 238}, {13, 15}, {99, 99}, {239, 248}, {27, 28}, {249, 266},
		{109, 110}, {267, 318}, {158, 158}, {155, 155}, {163, 163}, {319, 326}, {150, 150}, {164, 164},
		{169, 169}, {327, 378}}
	expertSubsetCharset = [][2]uint16{{0, 1}, {231, 232}, {235, 238}, {13, 15}, {99, 99}, {239, 248}, {27, 28},
		{249, 251}, {253, 266}, {109, 110}, {267, 270}, {272, 272}, {300, 302}, {305, 305}, {314, 315},
		{158, 158}, {155, 155}, {163, 163}, {320, 326}, {150, 150}, {164, 164}, {169, 169}, {327, 346}}
)

// readCharset gives each glyph its string id, or its CID in a CID-keyed font
// (TN5176, section 13). Glyph 0 is not in the file.
func readCharset(b []byte, at, glyphs int, cid bool) ([]uint16, error) {
	if at <= 2 && !cid {
		return predefinedCharset(at, glyphs)
	}
	if at <= 2 {
		all := make([]uint16, glyphs) // a CID-keyed font without charset: CIDs are indices
		for i := range all {
			all[i] = uint16(i)
		}
		return all, nil
	}
	r := reader{b: b, at: min(at, len(b))}
	all := make([]uint16, 1, glyphs)
	switch format := r.u8(); format {
	case 0:
		for len(all) < glyphs && !r.short {
			all = append(all, r.u16())
		}
	case 1, 2:
		for len(all) < glyphs && !r.short {
			first, more := r.u16(), 0
			if format == 1 {
				more = int(r.u8())
			} else {
				more = int(r.u16())
			}
			for i := 0; i <= more && len(all) < glyphs; i++ {
				all = append(all, first+uint16(i))
			}
		}
	default:
		return nil, fmt.Errorf("%w: CFF: a charset of format %d at byte %d, must be 0, 1 or 2", ErrInvalid, format, at)
	}
	if r.short {
		return nil, fmt.Errorf("%w: CFF: the charset at byte %d is cut short", ErrInvalid, at)
	}
	return all, nil
}

func predefinedCharset(which, glyphs int) ([]uint16, error) {
	if which < 0 {
		return nil, fmt.Errorf("%w: CFF: the charset's place is no offset", ErrInvalid)
	}
	var all []uint16
	for _, run := range [][][2]uint16{isoAdobeCharset, expertCharset, expertSubsetCharset}[which] {
		for id := run[0]; id <= run[1]; id++ {
			all = append(all, id)
		}
	}
	if len(all) < glyphs {
		return nil, fmt.Errorf("%w: CFF: predefined charset %d names %d glyphs, the font has %d", ErrInvalid, which, len(all), glyphs)
	}
	return all[:glyphs], nil
}

// fdSelect tells the font dict of each glyph of a CID-keyed font (TN5176,
// section 19).
type fdSelect struct {
	format byte
	b      []byte // format 0: a byte per glyph; format 3: runs, each of a first glyph and a dict
	runs   int
}

func readFDSelect(b []byte, at, glyphs int) (s fdSelect, err error) {
	short := fmt.Errorf("%w: CFF: the FDSelect at byte %d is cut short", ErrInvalid, at)
	if at <= 0 || at >= len(b) {
		return s, short
	}
	s.format, b = b[at], b[at+1:]
	switch s.format {
	case 0:
		if len(b) < glyphs {
			return s, short
		}
		s.b = b[:glyphs]
	case 3:
		if len(b) < 2 {
			return s, short
		}
		s.runs = int(binary.BigEndian.Uint16(b))
		if s.b = b[2:]; len(s.b) < 3*s.runs+2 {
			return s, short
		}
	default:
		return s, fmt.Errorf("%w: CFF: an FDSelect of format %d, only 0 and 3 are defined", ErrUnsupported, s.format)
	}
	return s, nil
}

// dict is a glyph's font dict, -1 where no run holds the glyph. Runs rise, so
// the one that holds the glyph is found by halving.
func (s *fdSelect) dict(glyph int) int {
	if s.format == 0 {
		return int(s.b[glyph])
	}
	first := func(i int) int { return int(binary.BigEndian.Uint16(s.b[3*i:])) }
	low, high := 0, s.runs
	for low < high {
		if mid := (low + high) / 2; first(mid) <= glyph {
			low = mid + 1
		} else {
			high = mid
		}
	}
	if low == 0 || glyph >= first(s.runs) {
		return -1
	}
	return int(s.b[3*(low-1)+2])
}
