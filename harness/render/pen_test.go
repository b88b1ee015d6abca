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
	p.draw(&glyph.Ref{Key: "A"})
	d := &p.drawn
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
	p.draw(&glyph.Ref{Key: "A"})
	d := &p.drawn
	require.NoError(t, d.Err)
	require.EqualError(t, d.Note, "drawn as far as its hints go")
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
	require.Equal(t, "built-in 1 (fill=touch, interpreter=35, stems=5)", id.String())
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
