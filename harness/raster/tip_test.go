package raster

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// A tip three pixels high on a block of four, drawn through the columns' edges: its top row
// holds no centre. A second block far above keeps the box open.
func TestATipHasAPixelOnItsRow(t *testing.T) {
	far := upright(0, 384, 256, 448)
	on := func(x fixed.Int26_6) polygon { return polygon{0, 0, 256, 0, 256, 64, 144, 64, x, 192, 112, 64, 0, 64} }
	for _, c := range []struct {
		reason  string
		tip     polygon
		tips    []glyph.Tip
		dropout glyph.Dropout
		want    string
	}{
		{"dropout control leaves out a stub", on(128), nil, glyph.DropoutSmart, ".... .#.. ####"},
		{"the tip is a point that must show", on(128), []glyph.Tip{{Point: 4, Top: true}}, glyph.DropoutSmart, "..#. .#.. ####"},
		{"with dropout control off nothing is mended", on(128), []glyph.Tip{{Point: 4, Top: true}}, glyph.DropoutOff, ".... .... ####"},
		{"another row is none of the tip's", on(128), []glyph.Tip{{Point: 3, Top: true}}, glyph.DropoutSmart, ".... .#.. ####"},
	} {
		o := contours(c.tip, far)
		o.Tips = c.tips
		b, err := new(Rasterizer).Bilevel(o, glyph.Center, c.dropout)
		require.NoError(t, err)
		rows := strings.Fields(art(&b))
		require.Equal(t, c.want, strings.Join(rows[len(rows)-3:], " "), c.reason)
	}
}

// The same upside down: the bottom of ink stands on the lower boundary of its row.
func TestATipThatPointsDownHasAPixelToo(t *testing.T) {
	o := contours(polygon{0, 192, 112, 192, 128, 64, 144, 192, 256, 192, 256, 256, 0, 256}, upright(0, -192, 256, -128))
	o.Tips = []glyph.Tip{{Point: 2}}
	b, err := new(Rasterizer).Bilevel(o, glyph.Center, glyph.DropoutSmart)
	require.NoError(t, err)
	require.Equal(t, "####", strings.Fields(art(&b))[0])
	require.EqualValues(t, 1, b.At(2, 1), "the pixel that holds it")
}

// Two rows above what was drawn, a pixel would stand alone.
func TestATipThatNothingLeadsToIsLeftOut(t *testing.T) {
	b := glyph.NewBitmap(0, 0, 4, 3, 1)
	b.Set(2, 0, 1)
	keepTips(&b, &glyph.Outline{Points: []glyph.Point{{X: 128, Y: 192}}, Tips: []glyph.Tip{{Top: true}}})
	require.Equal(t, 1, b.Ink())
	keepTips(&b, &glyph.Outline{Points: []glyph.Point{{X: 128, Y: 128}}, Tips: []glyph.Tip{{Top: true}}})
	require.Equal(t, 2, b.Ink())
}
