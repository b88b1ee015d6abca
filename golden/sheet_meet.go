package golden

import (
	"bytes"
	"crypto/sha256"
	"slices"

	"smokeproof/harness/glyph"
)

// Sound reports whether no golden is missing, and each is what was approved: by the seal, or where it does not
// hold by reading them.
func (s *Sheet) Sound() bool {
	s.sound = s.sealed() || s.load() == nil && s.strike.settled().hold(s.strike.Cells)
	return s.sound
}

func (s *Sheet) sealed() bool {
	a := s.strike.approvals
	if a.seal == "" {
		return false
	}
	return a.seal == sealOf(s.doc.checksum(), []byte(a.sealed))
}

// Same reports whether this candidate is equal to its golden, which was not met before, and meets it. If not,
// the two may still be equal, where Sound was not true. The candidate's bitmap must be tight.
func (s *Sheet) Same(c *glyph.Cell) bool {
	l := s.unmet(c.Ref)
	if l == nil {
		return false
	}
	s.text = c.AppendSigned(s.text[:0])
	digest := sha256.Sum256(s.text)
	if !l.marks(digest[:]) {
		return false
	}
	s.meet(l)
	return true
}

// unmet is the approval of a golden that is sound and was not met yet; nil where there is none.
func (s *Sheet) unmet(ref glyph.Ref) *glyphLine {
	if !s.sound {
		return nil
	}
	if l := s.strike.line(ref); l != nil && !l.met {
		return l
	}
	return nil
}

func (s *Sheet) meet(l *glyphLine) {
	l.met = true
	s.met++
}

// Met reports whether a glyph's golden was met.
func (s *Sheet) Met(ref glyph.Ref) bool {
	l := s.strike.line(ref)
	return l != nil && l.met
}

// Done reports whether all goldens were met.
func (s *Sheet) Done() bool { return s.met == len(s.strike.settled().lines) }

// Next reads the golden of a glyph and meets it, if it stands behind those that Next gave before. Otherwise it returns
// nil: the glyph has its golden elsewhere in the file, where Strike finds it, or has none.
func (s *Sheet) Next(ref glyph.Ref) *glyph.Cell {
	l := s.unmet(ref)
	if l == nil || !s.begin() {
		return nil
	}
	text := s.find(ref.Key)
	if text == nil {
		return nil
	}
	font, err := ParseBDF(slices.Concat(s.header, text, []byte(endFont)))
	if err != nil || len(font.Cells) != 1 {
		return nil
	}
	s.doc.pass(len(text))
	s.meet(l)
	font.Cells[0].Index = l.index
	return &font.Cells[0]
}

// find is the text of a glyph's golden, which is what comes next then; nil, and the end is, where there is none ahead.
func (s *Sheet) find(key glyph.Key) []byte {
	start := append(appendKey([]byte(glyphStart), key), '\n')
	for n := piece; ; n = len(start) + piece {
		text := s.doc.ahead(n)
		if at := bytes.Index(text, start); at >= 0 {
			s.doc.pass(at)
			return s.next()
		}
		if len(text) < n {
			s.doc.pass(len(text))
			return nil
		}
		s.doc.pass(len(text) - len(start))
	}
}
