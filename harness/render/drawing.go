package render

import (
	"context"
	"fmt"
	"slices"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// Drawing is a job of the built-in renderer under way, for one goroutine.
type Drawing struct {
	renderer *BuiltIn
	pen      *pen
}

// Begin begins a job; which glyphs it has does not matter.
func (b *BuiltIn) Begin(job *Job) (*Drawing, error) {
	if job.Fill != b.options.Fill {
		return nil, fmt.Errorf("%s: fill %q asked of a renderer set to %q; use one renderer per fill rule", job.Strike, job.Fill, b.options.Fill)
	}
	p, err := b.pen(job)
	if err != nil {
		return nil, err
	}
	return &Drawing{b, p}, nil
}

// Face is what is drawn from.
func (d *Drawing) Face() face.Face { return d.pen.face }

// Draw draws some glyphs in the caller's goroutine, and hands each on as Renderer.Draw does.
func (d *Drawing) Draw(ctx context.Context, glyphs []glyph.Ref, yield func(*Drawn) error) error {
	for refs := range slices.Chunk(glyphs, mostSketched) {
		sketches := d.pen.sketch(refs)
		for i := range sketches {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := yield(d.pen.draw(&sketches[i])); err != nil {
				return err
			}
		}
	}
	return nil
}

// End gives the pen back. After a failure it is left to the collector.
func (d *Drawing) End() { d.renderer.rest(d.pen) }

// Manner is all that the cell of a glyph hangs on besides its data, where no program moves it
// (face.TrueType.AppendPlain), or the whole face is drawn from the same (face.DrawnFrom).
type Manner struct {
	like  Likeness
	upem  int
	plain gridfit.Plain // of a TrueType face
}

// Manner is false where glyphs come with a warning, as hints failed.
func (d *Drawing) Manner() (m Manner, known bool) {
	m = Manner{like: d.pen.like, upem: d.pen.face.UPEM()}
	if _, trueType := d.pen.face.(*face.TrueType); !trueType {
		return m, d.pen.fitErr == nil
	}
	m.plain, known = gridfit.PlainOf(d.pen.fitter)
	return m, known
}
