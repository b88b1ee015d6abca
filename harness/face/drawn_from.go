package face

import "fmt"

// DrawnFrom gives all that the glyphs of a face are drawn from, names and codes apart: two faces in which
// it is the same bytes draw each glyph index alike, as those of a collection do which differ in cmap. It is nil for
// Type 1 fonts.
func DrawnFrom(f Face) [][]byte {
	switch f := f.(type) {
	case *TrueType:
		numbers := fmt.Append(nil, f.upem, f.flags, f.longLoca, f.maxp, f.hMetrics, f.vMetrics, f.ascender, f.descender)
		return [][]byte{numbers, f.glyf, f.loca, f.hmtx, f.vmtx, f.tables.get("cvt "), f.Fpgm(), f.Prep()}
	case *CFF:
		numbers := fmt.Append(nil, f.upem, f.hMetrics)
		if f.tables == nil {
			return [][]byte{numbers, f.data}
		}
		return [][]byte{numbers, f.data, f.tables.get("hmtx")}
	}
	return nil
}
