package render

import (
	"fmt"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// sketch is a glyph on its way, in memory of its own.
type sketch struct {
	fitted gridfit.Fitted
	words  []uint64 // of the bitmap
	drawn  Drawn
}

// mostSketched is how many glyphs are fitted before the first is scan-converted. The
// instructions of either fit a processor's first cache, but not of both: glyph by glyph, they
// push each other out.
const mostSketched = 16

// draw draws no more than mostSketched glyphs; the next ones are drawn in their place.
func (p *pen) draw(refs []glyph.Ref) []sketch {
	all := p.sketches[:len(refs)]
	for i := range all {
		all[i].drawn = Drawn{Cell: glyph.Cell{Ref: refs[i]}}
		p.step(&all[i], p.fitted)
	}
	for i := range all {
		if all[i].drawn.Err == nil {
			p.step(&all[i], p.converted)
		}
	}
	return all
}

// step takes a glyph a step on. Nothing that a font does to us may end the run: a panic
// becomes the glyph's error. After a failure what the pen remembers is not to be relied on.
func (p *pen) step(s *sketch, do func(*sketch) error) {
	ref := s.drawn.Cell.Ref
	fail := func(err error) {
		s.drawn = Drawn{Cell: glyph.Cell{Ref: ref}, Err: fmt.Errorf("glyph %q: %w", ref.Key, err)}
		p.fresh()
	}
	defer func() {
		if r := recover(); r != nil {
			fail(BrokeDown(r))
		}
	}()
	if err := do(s); err != nil {
		fail(err)
	}
}

func (p *pen) fitted(s *sketch) error {
	f, err := p.fit(&s.drawn.Cell.Ref)
	if err == nil {
		s.fitted.Take(f)
	}
	return err
}

func (p *pen) converted(s *sketch) (err error) {
	s.drawn.Note = s.fitted.Warning
	if s.drawn.Cell, err = p.cell(&s.drawn.Cell.Ref, &s.fitted); err != nil {
		return err
	}
	b := &s.drawn.Cell.Bitmap
	s.words = append(s.words[:0], b.Words...)
	b.Words = s.words
	return nil
}
