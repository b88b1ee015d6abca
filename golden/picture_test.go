package golden

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
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

// An offset in micrometres says nothing of pixels (PNG extensions 1.2, oFFs: unit 1).
func TestOnlyAnOffsetInPixelsPlacesAPicture(t *testing.T) {
	b := glyph.NewBitmap(3, -2, 1, 1, 1)
	b.Set(3, -2, 1)
	var pic bytes.Buffer
	require.NoError(t, WritePNG(&pic, &glyph.Cell{Advance: 5, Bitmap: b}, glyph.Dots(300)))
	for unit, placed := range map[byte]bool{0: true, 1: false} {
		data := bytes.Clone(pic.Bytes())
		at := bytes.Index(data, []byte("oFFs"))
		data[at+12] = unit
		binary.BigEndian.PutUint32(data[at+13:], crc32.ChecksumIEEE(data[at:at+13]))
		p, err := ParsePicture(data, 1)
		require.NoError(t, err)
		require.Equal(t, placed, p.Placed, "unit %d", unit)
	}
}

func TestPicturesLargerThanTheyCanBeAreRefused(t *testing.T) {
	for _, c := range []struct {
		why           string
		width, height uint32
	}{
		{"more pixels than a glyph has, packed to nothing", 16384, 16384},
		{"more pixels than so few bytes can hold", 4096, 4096},
		{"more pixels than can be counted", 1<<31 - 1, 1<<31 - 1},
	} {
		var pic bytes.Buffer
		require.NoError(t, png.Encode(&pic, image.NewGray(image.Rect(0, 0, 1, 1))), c.why)
		data := pic.Bytes()
		binary.BigEndian.PutUint32(data[16:], c.width)
		binary.BigEndian.PutUint32(data[20:], c.height)
		binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
		_, err := ParsePicture(data, 1)
		require.ErrorIs(t, err, ErrInvalid, c.why)
		require.NotErrorIs(t, err, io.ErrUnexpectedEOF, c.why)
	}
}
