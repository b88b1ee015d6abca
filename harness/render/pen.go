package render

import (
	"fmt"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
	"smokeproof/harness/gridfit/stems"
	"smokeproof/harness/raster"
)

// pen draws the glyphs of one face in one strike, for one goroutine. It keeps
// its fitter and buffers for the next job of the same face and size.
type pen struct {
	face   face.Face
	like   Likeness
	fitter gridfit.Fitter // nil where fitErr says why
	fitErr error
	raster raster.Rasterizer

	sketches [mostSketched]sketch
}

// highPrecisionBelow is the ppem under which FreeType asks its rasterizer for
// finer steps (ttgload.c, compute_glyph_metrics); our bitmaps of TrueType faces
// must follow. PostScript faces have them always: with steps of 1/64 px the two
// serifs of a stem would differ where a curve passes near a pixel's centre.
const highPrecisionBelow = 24

// take readies the pen for a job. Where the face's own programs fail, every
// glyph of the job fails with them, and the run goes on.
func (p *pen) take(f face.Face, l Likeness) {
	if p.fitter == nil || p.face != f || p.like != l {
		p.face, p.like = f, l
		p.newSize()
	}
}

// fresh makes the fitter and the buffers anew: after a failure the state of
// the old ones is not to be relied on.
func (p *pen) fresh() {
	p.fitter, p.raster = nil, raster.Rasterizer{}
	p.newSize()
}

// newSize makes the fitter of the face and size, in the buffers of the last one where
// it can.
func (p *pen) newSize() {
	old := p.fitter
	p.fitter, p.fitErr = nil, nil
	defer func() {
		if r := recover(); r != nil {
			p.fitErr = BrokeDown(r)
		}
	}()
	_, nominal := p.like.ppem.Nominal()
	_, trueType := p.face.(*face.TrueType)
	p.raster.Forget()
	p.raster.HighPrecision = !trueType || nominal < highPrecisionBelow
	p.fitter, p.fitErr = newFitter(p.face, p.like, old)
}

func newFitter(f face.Face, l Likeness, old gridfit.Fitter) (gridfit.Fitter, error) {
	switch f := f.(type) {
	case *face.TrueType:
		return gridfit.NewTrueTypeFrom(old, f, l.ppem), nil
	case face.PostScript:
		return gridfit.NewPostScript(f, l.ppem, stems.Options{YOnly: l.mode == glyph.Grey, Sideways: l.options.Sideways}), nil
	}
	return nil, fmt.Errorf("%w: there is no grid fitting for %s faces; use a TrueType, Type 1 or CFF face", face.ErrUnsupported, f.Format())
}

// cell scan-converts a fitted glyph. Its bitmap is valid until the next call.
func (p *pen) cell(ref *glyph.Ref, fitted *gridfit.Fitted) (c glyph.Cell, err error) {
	c.Ref, c.Advance, c.SWidth = *ref, pixels(fitted.Advance), p.swidth(ref)
	if p.like.mode == glyph.Grey {
		c.Bitmap, err = p.raster.Grey(&fitted.Outline)
	} else {
		c.Bitmap, err = p.raster.Bilevel(&fitted.Outline, p.like.options.Fill, fitted.Dropout)
	}
	return c, err
}

func (p *pen) fit(ref *glyph.Ref) (*gridfit.Fitted, error) {
	if p.fitter == nil {
		return nil, p.fitErr
	}
	return p.fitter.Fit(ref.Index)
}

// outline is the fitted outline, copied from the fitter's buffers.
func (p *pen) outline(ref *glyph.Ref) (o glyph.Outline, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("glyph %q: %w", ref.Key, BrokeDown(r))
		}
	}()
	fitted, err := p.fit(ref)
	if err != nil {
		return o, fmt.Errorf("glyph %q: %w", ref.Key, err)
	}
	return glyph.Outline{Points: slices.Clone(fitted.Outline.Points), Ends: slices.Clone(fitted.Outline.Ends)}, nil
}

// explain tells why a glyph comes out as it does.
func (p *pen) explain(ref *glyph.Ref) (r *gridfit.Reasons, err error) {
	defer func() {
		if c := recover(); c != nil {
			err = fmt.Errorf("glyph %q: %w", ref.Key, BrokeDown(c))
		}
	}()
	if p.fitter == nil {
		return nil, p.fitErr
	}
	e, ok := p.fitter.(gridfit.Explainer)
	if !ok {
		return nil, fmt.Errorf("%w: the fitter of %s faces does not explain itself", face.ErrUnsupported, p.face.Format())
	}
	if r, err = e.Explain(ref.Index); err != nil {
		return nil, fmt.Errorf("glyph %q: %w", ref.Key, err)
	}
	n, err := p.tipsKept(ref)
	if n > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("Tips on rows of zones and bars that hold no pixel's centre and have a pixel all the same: %d.", n))
	}
	return r, err
}

// tipsKept counts the pixels that a glyph has for its tips' sake alone.
func (p *pen) tipsKept(ref *glyph.Ref) (n int, err error) {
	fitted, err := p.fit(ref)
	if err != nil || p.like.mode == glyph.Grey {
		return 0, err
	}
	o := fitted.Outline
	b, err := p.raster.Bilevel(&o, p.like.options.Fill, fitted.Dropout)
	if err != nil {
		return 0, err
	}
	n, o.Tips = b.Ink(), nil
	b, err = p.raster.Bilevel(&o, p.like.options.Fill, fitted.Dropout)
	return n - b.Ink(), err
}

// swidth is the design advance in thousandths of the em, rounded half up.
func (p *pen) swidth(ref *glyph.Ref) int {
	upem := int64(p.face.UPEM()) << 6
	return int((int64(p.face.Advance(ref.Index))*1000 + upem/2) / upem)
}

// pixels rounds to whole pixels, half up, as FreeType rounds advances.
func pixels(v fixed.Int26_6) int { return int(v+32) >> 6 }
