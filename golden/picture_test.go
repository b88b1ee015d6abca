package golden

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// The second row of netpbm's feep.pbm sample packs to 79 E7 9E (netpbm manual pages).
func TestPicturesShowTheSameInk(t *testing.T) {
	const row = "011110011110011110011110"
	b := glyph.NewBitmap(0, 0, len(row), 1, 1)
	for x := range row {
		b.Set(x, 0, row[x]-'0')
	}
	c := &glyph.Cell{Ref: glyph.Ref{Key: "feep"}, Advance: 24, Bitmap: b}
	var art, pbm, pic bytes.Buffer
	require.NoError(t, WriteArt(&art, c))
	require.Equal(t, "feep left 1 bottom 0 advance 24\n####..####..####..####\n", art.String())
	require.NoError(t, WritePBM(&pbm, c))
	require.Equal(t, "P4\n# left 1 bottom 0 advance 24\n22 1\n\xF3\xCF\x3C", pbm.String(), "79 E7 9E, one column to the left")
	require.NoError(t, WritePNG(&pic, c, glyph.Dots(300)))
	require.Contains(t, pic.String(), "pHYs\x00\x00\x2e\x23\x00\x00\x2e\x23\x01", "300 dpi is 11811 pixels a metre")
	img, err := png.Decode(&pic)
	require.NoError(t, err)
	require.Equal(t, 22, img.Bounds().Dx())
}
