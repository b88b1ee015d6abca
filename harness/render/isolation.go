package render

import (
	"context"
	"errors"
	"fmt"

	"smokeproof/harness/glyph"
)

// fault is what a process did wrong while it drew.
type fault struct {
	what   string
	words  string // the end of its standard error
	killed bool   // a signal ended the process: its own fault, or somebody else's deed
}

func (f *fault) Error() string {
	if f.words == "" {
		return "renderer " + f.what
	}
	return fmt.Sprintf("renderer %s; its last words: %s", f.what, f.words)
}

// hopeless is the number of glyphs that may fail alone, with none drawn yet,
// before the rest of a strike is given up: without it a broken renderer would
// be restarted twice per glyph.
const hopeless = 32

// attempts is how often one glyph is asked for where a signal ends the process
// each time. The first kills may have come from outside, out of memory or a
// person's hand, and say nothing of the glyph.
const attempts = 4

// isolation draws a job so that a faulty glyph costs itself alone.
type isolation struct {
	seat         seat
	job          *Job
	yield        func(*Drawn) error
	drawn, alone int // glyphs that came out; glyphs that failed alone
}

// draw asks for glyphs together; if that goes wrong, for each half.
func (i *isolation) draw(ctx context.Context, refs []glyph.Ref) error {
	if len(refs) == 0 {
		return nil
	}
	cells, f, err := i.ask(ctx, refs)
	switch {
	case err == nil:
		return i.hand(refs, cells)
	case f == nil:
		return err
	case len(refs) == 1 || !i.seat.splits():
		i.alone++
		return i.fail(refs, f)
	}
	half := len(refs) / 2
	if err := i.draw(ctx, refs[:half]); err != nil {
		return err
	}
	if i.drawn == 0 && i.alone >= hopeless {
		return i.fail(refs[half:], f)
	}
	return i.draw(ctx, refs[half:])
}

// ask asks once, and again for a lone glyph whose process a signal ended.
func (i *isolation) ask(ctx context.Context, refs []glyph.Ref) (cells map[glyph.Key]glyph.Cell, f *fault, err error) {
	for n := 1; ; n++ {
		f = nil
		cells, err = i.seat.ask(ctx, i.job, refs)
		if !errors.As(err, &f) || !f.killed || len(refs) > 1 || n == attempts {
			return cells, f, err
		}
	}
}

func (i *isolation) hand(refs []glyph.Ref, cells map[glyph.Key]glyph.Cell) error {
	for _, r := range refs {
		d := Drawn{Cell: glyph.Cell{Ref: r}}
		c, ok := cells[r.Key]
		if ok {
			d.Cell = c
			i.drawn++
		} else {
			d.Err = &fault{what: "left this glyph out", words: i.seat.lastWords()}
		}
		if err := i.yield(&d); err != nil {
			return err
		}
	}
	return nil
}

func (i *isolation) fail(refs []glyph.Ref, f *fault) error {
	for _, r := range refs {
		if err := i.yield(&Drawn{Cell: glyph.Cell{Ref: r}, Err: f}); err != nil {
			return err
		}
	}
	return nil
}
