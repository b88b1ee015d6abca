package render

import (
	"context"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

type panicking struct{}

func (panicking) Fit(int) (*gridfit.Fitted, error) { panic("index out of range") }

func TestAPanicInOneGlyphIsThatGlyphsError(t *testing.T) {
	p := pen{fitter: panicking{}}
	d := p.draw(&p.sketch([]glyph.Ref{{Key: "A"}})[0])
	require.EqualError(t, d.Err, `glyph "A": this program broke down: index out of range; please report it`)
	require.Equal(t, glyph.Key("A"), d.Cell.Key)

	_, err := p.outline(&glyph.Ref{Key: "A"})
	require.ErrorContains(t, err, "broke down")
}

type limping struct{}

func (limping) Fit(int) (*gridfit.Fitted, error) {
	return &gridfit.Fitted{Warning: errors.New("drawn as far as its hints go")}, nil
}

func TestAWarningAboutHintsIsANoteOnAGlyphThatIsDrawn(t *testing.T) {
	f, err := NewBuiltIn(BuiltInOptions{}).Face("../../fixtures/larkmoor-text-a.ttf", 0)
	require.NoError(t, err)
	p := pen{face: f, fitter: limping{}}
	d := p.draw(&p.sketch([]glyph.Ref{{Key: "A"}})[0])
	require.NoError(t, d.Err)
	require.EqualError(t, d.Note, "drawn as far as its hints go")
}

// squares are as many pixels wide as their index.
type squares struct{}

func (squares) Fit(side int) (*gridfit.Fitted, error) {
	n := fixed.I(side)
	return &gridfit.Fitted{Outline: glyph.Outline{Ends: []int{3}, Points: []glyph.Point{{X: 0, Y: 0}, {X: 0, Y: n}, {X: n, Y: n}, {X: n, Y: 0}}}}, nil
}

func TestBitmapsForWhichThereIsNoRoomAreDrawnWhenTheyAreAskedFor(t *testing.T) {
	f, err := NewBuiltIn(BuiltInOptions{}).Face("../../fixtures/larkmoor-text-a.ttf", 0)
	require.NoError(t, err)
	sides := []int{8, 1200, 1300, 8, 1400}
	var refs []glyph.Ref
	for _, side := range sides {
		refs = append(refs, glyph.Ref{Key: "A", Index: side})
	}
	p := pen{face: f, fitter: squares{}, like: Likeness{mode: glyph.Bilevel}}
	sketches := p.sketch(refs)
	kept := 0
	for i, side := range sides {
		d := p.draw(&sketches[i])
		require.NoError(t, d.Err)
		require.Equal(t, side*side, d.Cell.Bitmap.Ink(), "square of %d px", side)
		kept += len(sketches[i].words)
	}
	require.LessOrEqual(t, kept, mostWords)
}

// pointed is a spike of two pixels on a block of one row, with its tip between two columns.
type pointed struct{ tips []glyph.Tip }

func (f pointed) Fit(int) (*gridfit.Fitted, error) {
	o := glyph.Outline{Ends: []int{6}, Tips: f.tips}
	for _, p := range [][2]int{{0, 0}, {256, 0}, {256, 64}, {144, 64}, {128, 192}, {112, 64}, {0, 64}} {
		o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(p[0]), Y: fixed.Int26_6(p[1])})
	}
	return &gridfit.Fitted{Outline: o, Dropout: glyph.DropoutSmart}, nil
}

func (f pointed) Explain(int) (*gridfit.Reasons, error) { return &gridfit.Reasons{}, nil }

func TestAPixelForATipIsExplained(t *testing.T) {
	top := []glyph.Tip{{Point: 4, Top: true}}
	for _, c := range []struct {
		why   string
		pen   pen
		notes int
	}{
		{"the tip's row would be blank", pen{fitter: pointed{top}}, 1},
		{"nothing says that it must show", pen{fitter: pointed{}}, 0},
		{"a fill by area has no dropout control", pen{fitter: pointed{top}, like: Likeness{options: BuiltInOptions{Fill: glyph.Touch}}}, 0},
		{"grey shows it as it is", pen{fitter: pointed{top}, like: Likeness{mode: glyph.Grey}}, 0},
	} {
		r, err := c.pen.explain(&glyph.Ref{Key: "spike"})
		require.NoError(t, err, c.why)
		require.Len(t, r.Notes, c.notes, c.why)
	}
}

func TestAdvancesRoundHalfUp(t *testing.T) {
	for in, want := range map[int]int{0: 0, 31: 0, 32: 1, 64: 1, 95: 1, 96: 2, -32: 0, -33: -1} {
		require.Equal(t, want, pixels(fixed.Int26_6(in)), in)
	}
}

func TestTheBuiltInRendererRefusesAnotherFillThanItNames(t *testing.T) {
	b := NewBuiltIn(BuiltInOptions{Fill: glyph.Touch})
	id, err := b.Identity(t.Context())
	require.NoError(t, err)
	require.Equal(t, "built-in 1 (fill=touch, interpreter=35, stems=8)", id.String())
	require.ErrorContains(t, b.Draw(t.Context(), jobOf("A"), nil), `fill "center" asked of a renderer set to "touch"`)
}

func TestTheBuiltInRendererObeysItsContext(t *testing.T) {
	b := NewBuiltIn(BuiltInOptions{})
	job := jobOf()
	job.Font = fontFile(t, "dejavu/DejaVuSans.ttf")
	f, err := b.Face(job.Font, 0)
	require.NoError(t, err)
	job.Glyphs = f.Refs()
	ctx, cancel := context.WithCancel(t.Context())
	n := 0
	err = b.Draw(ctx, job, func(*Drawn) error { n++; cancel(); return nil })
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 1, n, "no glyph after the one that cancelled")
}
