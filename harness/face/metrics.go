package face

import (
	"encoding/binary"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// readMetrics finds how many full entries hmtx and vmtx have, and the heights
// that stand in where there is no vmtx.
func (f *TrueType) readMetrics() error {
	hhea, err := f.tables.need("hhea", 36)
	if err != nil {
		return err
	}
	f.hmtx, f.vmtx = f.tables.get("hmtx"), f.tables.get("vmtx")
	f.hMetrics = min(int(binary.BigEndian.Uint16(hhea[34:])), len(f.hmtx)/4)
	f.ascender, f.descender = int(i16(hhea, 4)), int(i16(hhea, 6))
	if os2 := f.tables.get("OS/2"); len(os2) >= 72 {
		f.ascender, f.descender = int(i16(os2, 68)), int(i16(os2, 70))
	}
	if vhea := f.tables.get("vhea"); len(vhea) >= 36 {
		f.vMetrics = min(int(binary.BigEndian.Uint16(vhea[34:])), len(f.vmtx)/4)
	}
	return nil
}

// HMetrics is a glyph's advance width and left side bearing.
func (f *TrueType) HMetrics(index int) (advance, lsb glyph.FUnit) {
	return longMetrics(f.hmtx, f.hMetrics, index)
}

// Advance is a glyph's linear advance width in 26.6 font units.
func (f *TrueType) Advance(index int) fixed.Int26_6 {
	advance, _ := f.HMetrics(index)
	return fixed.Int26_6(advance) << 6
}

// VMetrics is the advance height and top side bearing of a glyph whose top is at
// yMax. Without vmtx the advance is the height from the typographic ascender to the
// descender (OS/2, else hhea), and the bearing reaches from the ascender down to the
// glyph's top.
func (f *TrueType) VMetrics(index int, yMax glyph.FUnit) (advance, tsb glyph.FUnit) {
	if f.vMetrics > 0 {
		return longMetrics(f.vmtx, f.vMetrics, index)
	}
	return glyph.FUnit(f.ascender - f.descender), glyph.FUnit(f.ascender) - yMax
}

// longMetrics reads hmtx or vmtx: n pairs, then bearings alone, which share the
// last advance.
func longMetrics(b []byte, n, index int) (advance, bearing glyph.FUnit) {
	if n == 0 || index < 0 {
		return 0, 0
	}
	if index < n {
		return glyph.FUnit(binary.BigEndian.Uint16(b[4*index:])), i16(b, 4*index+2)
	}
	advance = glyph.FUnit(binary.BigEndian.Uint16(b[4*(n-1):]))
	if at := 4*n + 2*(index-n); at+2 <= len(b) {
		bearing = i16(b, at)
	}
	return advance, bearing
}

func i16(b []byte, at int) glyph.FUnit { return glyph.FUnit(int16(binary.BigEndian.Uint16(b[at:]))) }

// HDMX holds the instructed advances that the maker recorded: ppem → advance in
// pixels by glyph index (OpenType, "hdmx").
func (f *TrueType) HDMX() map[int][]uint8 {
	b := f.tables.get("hdmx")
	if len(b) < 8 {
		return nil
	}
	n, size := int(binary.BigEndian.Uint16(b[2:])), int(binary.BigEndian.Uint32(b[4:]))
	out := map[int][]uint8{}
	for i := range n {
		at := 8 + i*size
		if size < 2+f.maxp.NumGlyphs || at+2+f.maxp.NumGlyphs > len(b) {
			break
		}
		out[int(b[at])] = b[at+2 : at+2+f.maxp.NumGlyphs]
	}
	return out
}
