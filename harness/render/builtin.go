package render

import (
	"context"
	"fmt"
	"sync"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// BuiltInOptions choose how the built-in renderer draws.
type BuiltInOptions struct {
	Fill     glyph.Fill // of bilevel strikes; a job must ask for the same
	Sideways bool       // PostScript glyphs may move in their cells: see stems.Options
}

// BuiltIn is the renderer in pure Go: face, gridfit and raster in one process.
type BuiltIn struct {
	options BuiltInOptions

	files shelf[string, *face.File] // by path
	faces shelf[faceKey, face.Face]

	mu   sync.Mutex
	pens []*pen // at rest: no more than ever drew at a time
}

type faceKey struct {
	path  string
	index int
}

// shelf keeps what is read once, however many ask for it at a time: a face for all of its strikes, a file
// for all faces of a collection.
type shelf[K comparable, V any] struct {
	mu   sync.Mutex
	read map[K]func() (V, error)
}

func (s *shelf[K, V]) get(key K, read func() (V, error)) (V, error) {
	s.mu.Lock()
	once := s.read[key]
	if once == nil {
		if s.read == nil {
			s.read = map[K]func() (V, error){}
		}
		once = sync.OnceValues(read)
		s.read[key] = once
	}
	s.mu.Unlock()
	return once()
}

// NewBuiltIn prepares the renderer; it reads no font before it is asked to.
func NewBuiltIn(o BuiltInOptions) *BuiltIn {
	return &BuiltIn{options: o}
}

// Likeness is all that the bitmaps of a face hang on: two strikes of one face that agree in
// it are drawn alike. A pen is told nothing else of a strike.
type Likeness struct {
	ppem    glyph.PPEM // that the face is fitted at
	mode    glyph.Mode
	options BuiltInOptions
}

// Likeness is that of a strike of a face.
func (b *BuiltIn) Likeness(f face.Face, s glyph.Strike) Likeness {
	return Likeness{ppem: gridfit.Size(f, s.PPEM()), mode: s.Mode, options: b.options}
}

// Identity names the renderer. Its version rises whenever a bitmap may change.
func (b *BuiltIn) Identity(context.Context) (glyph.Identity, error) {
	sideways := ""
	if b.options.Sideways {
		sideways = ", sideways=yes"
	}
	return glyph.Identity{
		Name: "built-in", Version: "1",
		Settings: fmt.Sprintf("fill=%s, interpreter=35%s, stems=8", b.options.Fill, sideways),
	}, nil
}

// Face reads a font file, or returns it as it was read before.
func (b *BuiltIn) Face(path string, index int) (face.Face, error) {
	return b.faces.get(faceKey{path, index}, func() (face.Face, error) {
		file, err := b.files.get(path, func() (*face.File, error) { return face.ReadFile(path) })
		if err != nil {
			return nil, err
		}
		return file.Face(index)
	})
}

// Draw draws a job in the caller's goroutine.
func (b *BuiltIn) Draw(ctx context.Context, job *Job, yield func(*Drawn) error) error {
	d, err := b.Begin(job)
	if err != nil {
		return err
	}
	if err := d.Draw(ctx, job.Glyphs, yield); err != nil {
		return err
	}
	d.End()
	return nil
}

// Outline is the fitted outline of one glyph in 26.6 device pixels, Y up, its
// origin at (0, 0).
func (b *BuiltIn) Outline(ctx context.Context, job *Job, ref glyph.Ref) (glyph.Outline, error) {
	if err := ctx.Err(); err != nil {
		return glyph.Outline{}, err
	}
	p, err := b.pen(job)
	if err != nil {
		return glyph.Outline{}, err
	}
	o, err := p.outline(&ref)
	if err == nil {
		b.rest(p)
	}
	return o, err
}

// Explain tells what decided the positions of one glyph.
func (b *BuiltIn) Explain(ctx context.Context, job *Job, ref glyph.Ref) (*gridfit.Reasons, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p, err := b.pen(job)
	if err != nil {
		return nil, err
	}
	r, err := p.explain(&ref)
	if err == nil {
		b.rest(p)
	}
	return r, err
}

// Close has nothing to end.
func (b *BuiltIn) Close() error { return nil }

// pen readies a pen for a job, in the buffers of the one that came to rest last. They
// are not left to the collector, as memory touched anew costs more than to keep it.
func (b *BuiltIn) pen(job *Job) (*pen, error) {
	f, err := b.Face(job.Font, job.Index)
	if err != nil {
		return nil, err
	}
	p := new(pen)
	b.mu.Lock()
	if n := len(b.pens); n > 0 {
		p, b.pens = b.pens[n-1], b.pens[:n-1]
	}
	b.mu.Unlock()
	p.take(f, b.Likeness(f, job.Strike))
	return p, nil
}

func (b *BuiltIn) rest(p *pen) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.pens = append(b.pens, p)
}
