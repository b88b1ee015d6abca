package harness

import (
	"sync"
	"sync/atomic"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
	"smokeproof/harness/raster"
)

// forms are those of glyphs, each read once for all strikes of its face.
type forms struct {
	kept  sync.Map // formKey to *diff.Form
	count atomic.Int64
}

type formKey struct {
	face  string
	index int
}

// mostForms bounds the forms that are kept, of 1 to 2 KB each: strikes come face by face.
const mostForms = 1 << 15

// of is the form of a glyph; nil where the face cannot give its outline.
func (f *forms) of(j *diff.Judge, pen *raster.Rasterizer, face string, ref glyph.Ref, d *glyph.Design) *diff.Form {
	key := formKey{face, ref.Index}
	if is, ok := f.kept.Load(key); ok {
		return is.(*diff.Form)
	}
	if f.count.Add(1) > mostForms {
		f.kept.Clear()
		f.count.Store(1)
	}
	var is *diff.Form
	if d != nil && d.UPEM > 0 {
		o := d.Scaled(diff.FormPPEM)
		if b, err := pen.Bilevel(&o, glyph.Center, glyph.DropoutType1); err == nil {
			is = j.Form(&glyph.Cell{Ref: ref, Advance: int(d.Advance) * diff.FormPPEM.X.Round() / d.UPEM, Bitmap: b})
		}
	}
	f.kept.Store(key, is)
	return is
}
