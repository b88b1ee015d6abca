package gridfit

import (
	"fmt"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/stems"
)

// postScript fits the glyphs of a Type 1 or CFF face at one size.
type postScript struct {
	face    face.PostScript
	size    stems.Size
	options stems.Options
	fitters map[*face.Private]*stems.Fitter
	out     Fitted
}

// NewPostScript readies a face's stems and zones for a size, each hint
// dictionary when a glyph first needs it.
func NewPostScript(f face.PostScript, p glyph.PPEM, o stems.Options) Fitter {
	return &postScript{
		face: f, size: stems.Size{PPEM: p, UPEM: f.UPEM()}, options: o,
		fitters: map[*face.Private]*stems.Fitter{},
	}
}

// Fit fits one glyph. The advance is only scaled.
func (p *postScript) Fit(index int) (*Fitted, error) {
	_, err := p.fit(index)
	return &p.out, err
}

func (p *postScript) fit(index int) (*stems.Fitter, error) {
	d, err := p.face.Drawing(index)
	if err != nil {
		return nil, err
	}
	f := p.fitter(index)
	p.out = Fitted{
		Outline: *f.Fit(d),
		Advance: glyph.Scale(d.Advance, p.size.PPEM.X, p.size.UPEM),
		Dropout: glyph.DropoutSmart, // PostScript faces ask for none; a hairline in a zone must not fall out of it
	}
	return f, nil
}

func (p *postScript) fitter(index int) *stems.Fitter {
	private := p.face.Private(index)
	f := p.fitters[private]
	if f == nil {
		f = stems.New(private, p.size, p.options)
		p.fitters[private] = f
	}
	return f
}

// Explain fits one glyph and tells what its stems and zones became.
func (p *postScript) Explain(index int) (*Reasons, error) {
	f, err := p.fit(index)
	if err != nil {
		return nil, err
	}
	r := &Reasons{
		UPEM: p.size.UPEM, PPEM: p.size.PPEM, Dropout: p.out.Dropout,
		Linear: p.out.Advance, Advance: p.out.Advance, Hints: f.Choices(),
	}
	if p.options.YOnly {
		r.Notes = append(r.Notes, "Positions along X are only scaled: the device is grey.")
	}
	private := p.face.Private(index)
	if private.ForceBold {
		r.Notes = append(r.Notes, "ForceBold: upright stems of one pixel are made two pixels wide.")
	}
	if n := len(r.Hints.Stems); n == 0 {
		r.Notes = append(r.Notes, "The glyph declares no stems that its outline shows: it is only scaled.")
	}
	r.Notes = append(r.Notes, p.blueScale(private.BlueScale, r.Hints.BlueScale))
	return r, nil
}

func (p *postScript) blueScale(declared, used float64) string {
	cut := ""
	if used < declared-1e-6 {
		cut = fmt.Sprintf(", taken for %.6g, as times the tallest zone it must stay under a pixel", used)
	}
	return fmt.Sprintf("BlueScale is %.6g%s: overshoot shows from %.4g ppem.", declared, cut, used*float64(p.size.UPEM))
}
