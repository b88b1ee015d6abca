package render

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// A face that sets bit 3 of head.flags is scaled at whole ppem: 9 pt at 203 dpi are 25.
func TestLikenessIsOfAllThatADrawingHangsOn(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*glyph.Strike, *BuiltInOptions)
		alike  bool
	}{
		{"nothing", func(*glyph.Strike, *BuiltInOptions) {}, true},
		{"names", func(s *glyph.Strike, _ *BuiltInOptions) { s.Face, s.Device = "other", "other" }, true},
		{"the same size of pixels", func(s *glyph.Strike, _ *BuiltInOptions) { s.Size, s.DPI = glyph.Pt(6), glyph.Dots(300) }, true},
		{"size", func(s *glyph.Strike, _ *BuiltInOptions) { s.Size = glyph.Pt(10) }, false},
		{"resolution of rows", func(s *glyph.Strike, _ *BuiltInOptions) { s.DPI.Y *= 2 }, false},
		{"resolution of columns", func(s *glyph.Strike, _ *BuiltInOptions) { s.DPI.X *= 2 }, false},
		{"mode", func(s *glyph.Strike, _ *BuiltInOptions) { s.Mode = glyph.Grey }, false},
		{"fill", func(_ *glyph.Strike, o *BuiltInOptions) { o.Fill = glyph.Touch }, false},
		{"sideways placement", func(_ *glyph.Strike, o *BuiltInOptions) { o.Sideways = true }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := NewBuiltIn(BuiltInOptions{}).Face("../../fixtures/larkmoor-text-a.ttf", 0)
			require.NoError(t, err)
			s, o := glyph.Strike{Size: glyph.Pt(9), DPI: glyph.Dots(203)}, BuiltInOptions{}
			was := NewBuiltIn(o).Likeness(f, s)
			c.change(&s, &o)
			require.Equal(t, c.alike, was == NewBuiltIn(o).Likeness(f, s))
		})
	}
}

func TestFacesOfFractionalSizesAreNotAlikeAtTheSameWholeOne(t *testing.T) {
	f, err := NewBuiltIn(BuiltInOptions{}).Face("../../fixtures/larkmoor-text-a.otf", 0)
	require.NoError(t, err)
	b := NewBuiltIn(BuiltInOptions{})
	at := func(pt, dpi int) Likeness {
		return b.Likeness(f, glyph.Strike{Size: glyph.Pt(pt), DPI: glyph.Dots(dpi)})
	}
	require.NotEqual(t, at(9, 203), at(6, 300), "25.375 and 25 ppem")
	require.Equal(t, at(12, 300), at(6, 600), "50 ppem")
}

func TestStrikesOfOneLikenessAreDrawnAlike(t *testing.T) {
	for _, font := range []string{"../../fixtures/larkmoor-text-a.ttf", "../../fixtures/larkmoor-text-b.otf", "../../fixtures/larkmoor-text-a.pfb"} {
		f, err := NewBuiltIn(BuiltInOptions{}).Face(font, 0)
		require.NoError(t, err)
		first, twins := map[Likeness][]glyph.Cell{}, 0
		for _, mode := range []glyph.Mode{glyph.Bilevel, glyph.Grey} {
			for _, dpi := range []int{203, 300, 600} {
				for _, pt := range []int{5, 6, 9, 10, 12, 15} {
					b := NewBuiltIn(BuiltInOptions{})
					job := &Job{Font: font, Glyphs: f.Refs(), Strike: glyph.Strike{Size: glyph.Pt(pt), DPI: glyph.Dots(dpi), Mode: mode}}
					var cells []glyph.Cell
					require.NoError(t, b.Draw(t.Context(), job, func(d *Drawn) error {
						cells = append(cells, d.Kept().Cell)
						return d.Err
					}))
					like := b.Likeness(f, job.Strike)
					if was := first[like]; was == nil {
						first[like] = cells
					} else {
						twins++
						require.Equal(t, was, cells, "%s %s", font, job.Strike)
					}
				}
			}
		}
		require.Positive(t, twins, font)
	}
}
