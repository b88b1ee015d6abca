package harness

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

func TestAnOutlineThatHintsLeftAsItWasIsBare(t *testing.T) {
	square := func(x, y fixed.Int26_6) []glyph.Point {
		const side = 6400 // 100 units
		return []glyph.Point{{X: x, Y: y}, {X: x, Y: y + side}, {X: x + side, Y: y + side}, {X: x + side, Y: y}}
	}
	d := &glyph.Design{UPEM: 1000, Outline: glyph.Outline{Points: append(square(0, 0), square(0, 19200)...), Ends: []int{3, 7}}}
	ppem := glyph.PPEM{X: 1444, Y: 1444} // 22.56
	scaled := func(p glyph.PPEM, spoil func([]glyph.Point)) *glyph.Outline {
		o := d.Scaled(p)
		spoil(o.Points)
		return &o
	}
	for _, c := range []struct {
		reason string
		fitted *glyph.Outline
		bare   bool
	}{
		{"as the size makes it", scaled(ppem, func([]glyph.Point) {}), true},
		{"at the nearest whole size", scaled(glyph.PPEM{X: 23 * 64, Y: 23 * 64}, func([]glyph.Point) {}), true},
		{"rounded otherwise", scaled(ppem, func(p []glyph.Point) { p[1].Y++; p[6].X-- }), true},
		{"the accent stands on a whole pixel", scaled(ppem, func(p []glyph.Point) {
			for i := range p[4:] {
				p[4+i].Y += 20
			}
		}), true},
		{"the top edge is on the grid", scaled(ppem, func(p []glyph.Point) { p[1].Y += 9; p[2].Y += 9 }), false},
		{"a stem is wider", scaled(ppem, func(p []glyph.Point) { p[2].X += 5; p[3].X += 5 }), false},
		{"the accent has hints, and the letter under it none", scaled(ppem, func(p []glyph.Point) { p[6].X += 5; p[7].X += 5 }), true},
		{"no outline", &glyph.Outline{}, false},
	} {
		require.Equal(t, c.bare, isBare(c.fitted, d, ppem), c.reason)
	}
	require.False(t, isBare(scaled(ppem, func([]glyph.Point) {}), nil, ppem), "no face at hand")
	emptied := func(ends ...int) bool {
		damaged := *d
		damaged.Outline.Ends = ends
		o := damaged.Scaled(ppem)
		return isBare(&o, &damaged, ppem)
	}
	require.False(t, emptied(), "a damaged font: points of no contour")
	require.True(t, emptied(3, 3, 7), "a damaged font: a contour without points")
}

func TestAPostScriptGlyphWithoutHintsIsBare(t *testing.T) {
	stroke := func(hints string) string {
		return "50 600 hsbw " + hints + " 33 hmoveto 87 hlineto 487 vlineto -87 hlineto closepath endchar"
	}
	font := &psfont.Font{Name: "Trial", Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: "0 500 hsbw endchar"},
		{Name: "l", Program: stroke("33 87 vstem 0 487 hstem")}, {Name: "I", Program: stroke("")},
	}}
	data, err := font.PFB()
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "trial.pfb")
	require.NoError(t, os.WriteFile(path, data, 0o666))
	b := render.NewBuiltIn(render.BuiltInOptions{})
	f, err := b.Face(path, 0)
	require.NoError(t, err)
	job := &render.Job{Font: path, Strike: glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Dots(203)}}
	bare := map[glyph.Key]bool{}
	for _, ref := range f.Refs() {
		o, err := b.Outline(t.Context(), job, ref)
		require.NoError(t, err)
		bare[ref.Key] = isBare(&o, designOf(f, ref.Index), job.Strike.PPEM())
	}
	require.Equal(t, map[glyph.Key]bool{".notdef": false, "l": false, "I": true}, bare)
}
