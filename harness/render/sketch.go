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
	done   bool
}

// mostSketched is how many glyphs are fitted before the first is scan-converted, and mostWords
// what their bitmaps may come to before the first is handed on. The instructions of one stage fit a
// processor's first cache, but not of all: glyph by glyph, they push each other out.
const (
	mostSketched = 16
	mostWords    = 1 << 15
)

// sketch takes no more than mostSketched glyphs; the next ones take their place. The first bitmap
// that there is no room for stays with the rasterizer until the next is drawn.
func (p *pen) sketch(refs []glyph.Ref) []sketch {
	all := p.sketches[:len(refs)]
	for i := range all {
		all[i].drawn, all[i].done = Drawn{Cell: glyph.Cell{Ref: refs[i]}}, false
		p.step(&all[i], p.fitted)
	}
	room := mostWords
	for i := range all {
		b := &p.draw(&all[i]).Cell.Bitmap
		if room -= len(b.Words); room < 0 {
			break
		}
		all[i].words = append(all[i].words[:0], b.Words...)
		b.Words = all[i].words
	}
	return all
}

// draw scan-converts a sketch, if it could be fitted and is not drawn yet.
func (p *pen) draw(s *sketch) *Drawn {
	if !s.done && s.drawn.Err == nil {
		p.step(s, p.converted)
	}
	s.done = true
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
