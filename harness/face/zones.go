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

// findZones measures the alignment rows of the face from its letters.
func (f *TrueType) findZones() []glyph.Zone {
	return measureZones(f.refs, func(index int) (*glyph.Outline, error) {
		d, err := f.design(index)
		if err != nil {
			return nil, err
		}
		return &d.Outline, nil
	})
}

// measureZones measures a face without zones, or whose zones have no names. A
// row whose letters are missing is left out. Outlines are in 26.6 font units.
func measureZones(refs []glyph.Ref, outline func(index int) (*glyph.Outline, error)) []glyph.Zone {
	m := letters{byCode: map[rune]int{}, outline: outline}
	for _, r := range refs {
		if r.Code != glyph.NoCode {
			m.byCode[r.Code] = r.Index
		}
	}
	var zones []glyph.Zone
	for _, z := range zoneLetters {
		flat, ok := m.extreme(z.flat, z.top)
		if !ok {
			continue
		}
		over, ok := m.extreme(z.round, z.top)
		if !ok || z.top && over < flat || !z.top && over > flat {
			over = flat
		}
		zones = append(zones, glyph.Zone{Name: z.name, Flat: flat, Over: over, Top: z.top})
	}
	return zones
}

type letters struct {
	byCode  map[rune]int
	outline func(index int) (*glyph.Outline, error)
}

// extreme is the top or bottom of the first of the letters that the face has.
func (m *letters) extreme(letters string, top bool) (glyph.FUnit, bool) {
	for _, c := range letters {
		i, ok := m.byCode[c]
		if !ok {
			continue
		}
		o, err := m.outline(i)
		if err != nil || len(o.Points) == 0 {
			continue
		}
		y := o.Points[0].Y
		for _, p := range o.Points {
			if top {
				y = max(y, p.Y)
			} else {
				y = min(y, p.Y)
			}
		}
		return whole(y), true
	}
	return 0, false
}
