package face

import "smokeproof/harness/glyph"

// zoneLetters measure a face that declares no zones: letters with flat ends at
// a row, and letters with round ends there.
var zoneLetters = []struct {
	name        string
	top         bool
	flat, round string
}{
	{"baseline", false, "HIxz", "Oo"},
	{"x-height", true, "xz", "o"},
	{"cap-height", true, "HI", "O"},
	{"ascender", true, "hlbdk", "f"},
	{"descender", false, "pq", "g"},
	{"figure-height", true, "17", "0"},
}

// findZones measures the alignment rows of the face from its letters. A row
// whose letters are missing is left out.
func (f *TrueType) findZones() []glyph.Zone {
	byCode := map[rune]int{}
	for _, r := range f.refs {
		if r.Code != glyph.NoCode {
			byCode[r.Code] = r.Index
		}
	}
	var zones []glyph.Zone
	for _, z := range zoneLetters {
		flat, ok := f.extreme(byCode, z.flat, z.top)
		if !ok {
			continue
		}
		over, ok := f.extreme(byCode, z.round, z.top)
		if !ok || z.top && over < flat || !z.top && over > flat {
			over = flat
		}
		zones = append(zones, glyph.Zone{Name: z.name, Flat: flat, Over: over, Top: z.top})
	}
	return zones
}

// extreme is the top or bottom of the first of the letters that the face has.
func (f *TrueType) extreme(byCode map[rune]int, letters string, top bool) (glyph.FUnit, bool) {
	for _, c := range letters {
		i, ok := byCode[c]
		if !ok {
			continue
		}
		d, err := f.design(i)
		if err != nil || len(d.Outline.Points) == 0 {
			continue
		}
		y := d.Outline.Points[0].Y
		for _, p := range d.Outline.Points {
			if top {
				y = max(y, p.Y)
			} else {
				y = min(y, p.Y)
			}
		}
		return glyph.FUnit((y + 32) >> 6), true
	}
	return 0, false
}
