package golden

import (
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// settled is the lines that stand for approved goldens, one a glyph.
type settled struct {
	lines   []*glyphLine // sorted by key
	byIndex []*glyphLine // where the glyph stood in its font; nil where none did
}

// maxIndex is the highest index that a font format has room for.
const maxIndex = 1<<16 - 1

// approved finds the line that settles each golden; of two that dispute it, the
// later.
func (a *approvals) approved() *settled {
	a.sort()
	s := &settled{lines: make([]*glyphLine, 0, len(a.glyphs))}
	for i := range a.glyphs {
		l := &a.glyphs[i]
		if !l.act.verdict.settles() {
			continue
		}
		if n := len(s.lines); n == 0 || s.lines[n-1].key != l.key {
			s.lines = append(s.lines, l)
		} else if l.act.when.After(s.lines[n-1].act.when) {
			s.lines[n-1] = l
		}
	}
	s.lines = slices.DeleteFunc(s.lines, func(l *glyphLine) bool { return l.act.verdict != Approve })
	top := -1
	for _, l := range s.lines {
		if l.index <= maxIndex {
			top = max(top, l.index)
		}
	}
	s.byIndex = make([]*glyphLine, top+1)
	for _, l := range s.lines {
		if uint(l.index) < uint(len(s.byIndex)) {
			s.byIndex[l.index] = l
		}
	}
	return s
}

// hold reports whether goldens are just those that were approved.
func (s *settled) hold(cells []glyph.Cell) bool {
	met := map[*glyphLine]bool{}
	for i := range cells {
		l, digest := s.of(cells[i].Ref), cells[i].Digest()
		if l == nil || met[l] || !l.marks(digest[:]) {
			return false
		}
		met[l] = true
	}
	return len(met) == len(s.lines)
}

// of finds a glyph's line, nil where it has none. Most glyphs stand where they
// stood when they were approved.
func (s *settled) of(ref glyph.Ref) *glyphLine {
	if uint(ref.Index) < uint(len(s.byIndex)) {
		if l := s.byIndex[ref.Index]; l != nil && l.key == ref.Key {
			return l
		}
	}
	i, found := slices.BinarySearchFunc(s.lines, ref.Key, func(l *glyphLine, k glyph.Key) int {
		return strings.Compare(string(l.key), string(k))
	})
	if !found {
		return nil
	}
	return s.lines[i]
}
