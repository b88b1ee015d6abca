package gridfit

import "smokeproof/harness/face"

// recurring numbers the contours of the simple glyphs that composites are made of, as
// glyph.Outline.Recurs has them: by glyph, the number of its first contour; 0 where no
// composite has the glyph.
func recurring(f *face.TrueType) []int32 {
	first := make([]int32, f.NumGlyphs())
	var g face.Glyph
	for i := range first {
		if !f.IsComposite(i) || f.ReadGlyph(&g, i) != nil { // drawing it says so
			continue
		}
		for k := range g.Components {
			if c := g.Components[k].Index; uint(c) < uint(len(first)) {
				first[c] = 1
			}
		}
	}
	next := int32(1)
	for i, has := range first {
		if has == 0 || f.ReadGlyph(&g, i) != nil {
			continue
		}
		first[i] = next
		next += int32(len(g.Ends))
	}
	return first
}
