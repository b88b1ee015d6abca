package harness

import "smokeproof/harness/glyph"

// matcher finds the face's glyph for a bitmap's.
type matcher struct {
	byKey    map[glyph.Key]glyph.Ref
	byName   map[string]glyph.Ref
	byCode   map[rune]glyph.Ref
	selected map[glyph.Key]bool
	taken    map[glyph.Key]bool
}

func (r *Run) matcher(s *StrikeJob) *matcher {
	m := &matcher{map[glyph.Key]glyph.Ref{}, map[string]glyph.Ref{}, map[rune]glyph.Ref{}, map[glyph.Key]bool{}, map[glyph.Key]bool{}}
	for _, ref := range r.faces[s.Face.Name].Refs() {
		m.byKey[ref.Key] = ref
		if ref.Name != "" {
			m.byName[ref.Name] = ref
		}
		if _, had := m.byCode[ref.Code]; !had && ref.Code != glyph.NoCode {
			m.byCode[ref.Code] = ref
		}
	}
	for _, ref := range s.Glyphs() {
		m.selected[ref.Key] = true
	}
	return m
}

// match goes by key, then name, then code; a glyph takes one bitmap alone.
func (m *matcher) match(c *glyph.Cell) (glyph.Ref, bool) {
	ref, ok := m.byKey[c.Key]
	if !ok && c.Name != "" {
		ref, ok = m.byName[c.Name]
	}
	if !ok && c.Code != glyph.NoCode {
		ref, ok = m.byCode[c.Code]
	}
	if !ok || m.taken[ref.Key] {
		return ref, false
	}
	m.taken[ref.Key] = true
	return ref, true
}
