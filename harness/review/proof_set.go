package review

import (
	"fmt"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// caution closes every sheet.
var caution = []string{
	"A proof is no certificate of legibility. Where small print can hurt someone, local labelling",
	"rules and a qualified reader of the sample, printed on the stock itself, decide.",
}

// Measures of a sheet in tenths of a millimetre.
const (
	marginMM10  = 80
	wordGapMM10 = 60
	lineGapMM10 = 12 // between golden and candidate line
	pairGapMM10 = 60 // between pairs, where the marks stand
	labelMM10   = 180
)

// set lays out the words of each strike, golden line over candidate line, on as
// many sheets as they need.
func (p proof) set(paper Paper) ([]*proofSheet, error) {
	dpi, err := glyph.ParseResolution(commaDPI(p[0].changes[0].DPI))
	if err != nil {
		return nil, err
	}
	var sheets []*proofSheet
	var s *proofSheet
	for _, st := range p {
		for i, row := range st.rows(paper, dpi) {
			full := s == nil || s.pen-row.height(s)-s.headingHeight() < s.floor()
			if full {
				s = newProofSheet(paper, dpi)
				s.head(p.title(), len(sheets)+1)
				sheets = append(sheets, s)
			}
			if full || i == 0 {
				s.heading(fmt.Sprintf("%s pt: %d changed", st.size(), len(st.changes)))
			}
			s.pair(row)
		}
	}
	return sheets, nil
}

// proofRow is words on one pair of lines, with the room they need about their
// baseline.
type proofRow struct {
	words       [][]sort
	above, deep int // pixels over the baseline, and below it
}

// rows breaks the words of a strike into lines.
func (st *proofStrike) rows(paper Paper, dpi glyph.Resolution) []proofRow {
	room := pixels(paper.Width*10-2*marginMM10-labelMM10, dpi.X)
	gap := pixels(wordGapMM10, dpi.X)
	var rows []proofRow
	used := room
	for _, c := range st.changes {
		w := st.word(c)
		width := max(lineWidth(w, false), lineWidth(w, true))
		if used+gap+width > room {
			rows = append(rows, proofRow{})
			used = -gap
		}
		used += gap + width
		r := &rows[len(rows)-1]
		r.words = append(r.words, w)
		for _, l := range w {
			for _, p := range []*harness.Picture{l.golden, l.candidate} {
				if p != nil {
					r.above, r.deep = max(r.above, p.Bottom+p.Height), max(r.deep, -p.Bottom)
				}
			}
		}
	}
	return rows
}

func lineWidth(w []sort, candidate bool) int {
	n := 0
	for _, l := range w {
		n += l.advance(candidate)
	}
	return n
}

func (r *proofRow) height(s *proofSheet) int {
	return 2*(r.above+r.deep) + s.y(lineGapMM10) + s.y(pairGapMM10)
}

// pair sets one row twice: its goldens, and beneath them its candidates with a
// mark under each changed glyph, below the reach of the type.
func (s *proofSheet) pair(r proofRow) {
	left := s.x(marginMM10) + s.x(labelMM10)
	base := s.pen - r.above
	for _, candidate := range []bool{false, true} {
		label := "golden"
		if candidate {
			label = "candidate"
			base -= r.deep + s.y(lineGapMM10) + r.above
		}
		s.text(s.x(marginMM10), base, label)
		pen := left
		for _, w := range r.words {
			at := pen
			for _, l := range w {
				p := l.golden
				if candidate {
					p = l.candidate
				}
				if p != nil {
					s.print(p, at, base)
				}
				if candidate && l.changed {
					s.mark(at+l.advance(true)/2, base-r.deep-s.y(8))
				}
				at += l.advance(candidate)
			}
			pen += max(lineWidth(w, false), lineWidth(w, true)) + s.x(wordGapMM10)
		}
	}
	s.pen = base - r.deep - s.y(pairGapMM10)
}
