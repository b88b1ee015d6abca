// Package render draws the glyphs of a strike through one interface, [Renderer]: in this
// process by our own fitter and scan converter ([BuiltIn]), or in a program of
// anybody's that answers requests with BDF ([Process]; the protocol is in protocol.go, and
// [Serve] is its other side). A glyph that cannot be drawn costs no other: workers that
// crash, hang or talk nonsense are asked again in halves until the guilty glyph is alone.
//
//	renderer.go                              the interface
//	builtin.go drawing.go pen.go sketch.go   the renderer of this process
//	process.go worker.go oneshot.go          another program's, kept at work or started once a strike
//	protocol.go answer.go serve.go           what is said to a worker, and its side of it
//	isolation.go breakdown.go words.go       the glyph that did it, and what was said of it
//	group*.go                                a process ended with all that it started
package render

import (
	"context"
	"slices"

	"smokeproof/harness/glyph"
)

// Renderer turns a strike's glyphs into cells. A Renderer is safe for use by
// many goroutines; each Draw call is one strike, or part of one.
type Renderer interface {
	// Identity says who draws, for approvals and results.
	Identity(ctx context.Context) (glyph.Identity, error)
	// Draw draws the glyphs of a job and hands each on as it is done, in the
	// order of the job. What yield is given is the renderer's, which draws the next
	// glyph in its place: see Drawn.Kept. A glyph that cannot be drawn is a Drawn with
	// Err set and does not end the run; Draw itself fails only where nothing more can be
	// drawn, or when yield does.
	Draw(ctx context.Context, job *Job, yield func(*Drawn) error) error
	// Close ends what the renderer started.
	Close() error
}

// Job is what to draw: some glyphs of one face in one strike.
type Job struct {
	Font   string // path of the font file
	Index  int    // face within a collection
	Strike glyph.Strike
	Fill   glyph.Fill
	Glyphs []glyph.Ref
}

// Drawn is one glyph as a renderer drew it, or why it could not.
type Drawn struct {
	Cell glyph.Cell // its Ref is always set; Bitmap is tight
	Err  error      // one line; the glyph is reported as undrawn
	Note error      // one line: what is wrong with a glyph that was drawn all the same
}

// Kept is a copy that shares no memory with d.
func (d *Drawn) Kept() Drawn {
	kept := *d
	kept.Cell.Bitmap.Words = slices.Clone(d.Cell.Bitmap.Words)
	return kept
}
