package render

import (
	"fmt"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// sketch is a fitted glyph that is to be drawn, in memory of its own.
type sketch struct {
	fitted gridfit.Fitted
	drawn  Drawn
}

// mostSketched is how many glyphs are fitted before the first is scan-converted. The
// instructions of either fit a processor's first cache, but not of both: glyph by glyph, they
// push each other out.
const mostSketched = 16

// sketch fits no more than mostSketched glyphs; the next ones take their place.
func (p *pen) sketch(refs []glyph.Ref) []sketch {
	all := p.sketches[:len(refs)]
	for i := range all {
		all[i].drawn = Drawn{Cell: glyph.Cell{Ref: refs[i]}}
		p.step(&all[i], p.fitted)
	}
	return all
}

// draw scan-converts a sketch, if it could be fitted. Its bitmap is valid until the next.
func (p *pen) draw(s *sketch) *Drawn {
	if s.drawn.Err == nil {
		p.step(s, p.converted)
	}
	return &s.drawn
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
	s.drawn.Cell, err = p.cell(&s.drawn.Cell.Ref, &s.fitted)
	return err
}
