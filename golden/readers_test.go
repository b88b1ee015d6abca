package golden

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// isInputError says that an error blames the file, as every reader's must.
func isInputError(err error) bool {
	return errors.Is(err, ErrInvalid) || errors.Is(err, ErrUnsupported)
}

func TestArtReadsBackExactly(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for _, depth := range []int{1, 2, 4, 8} {
		for range 30 {
			f := randomFont(rnd, depth)
			var doc bytes.Buffer
			for i := range f.Cells {
				require.NoError(t, WriteArt(&doc, &f.Cells[i]))
			}
			got, err := ReadArt(&doc)
			require.NoError(t, err)
			sameCells(t, f.Cells, got, "art")
		}
	}
}

func TestArtTakesWhatAHandLeavesBehind(t *testing.T) {
	got, err := ReadArt(strings.NewReader("; tuned for the label printer\r\ne left 1 bottom -1 advance 5\r\n .##\n####  \n#\n\n.##.\n\nx left 0 bottom 0 advance 3\n#\n"))
	require.NoError(t, err)
	require.Len(t, got, 2)
	want := glyph.NewBitmap(1, -1, 4, 5, 1)
	for _, p := range [][2]int{{3, 3}, {4, 3}, {1, 2}, {2, 2}, {3, 2}, {4, 2}, {1, 1}, {2, -1}, {3, -1}} {
		want.Set(p[0], p[1], 1)
	}
	require.True(t, want.Equal(&got[0].Bitmap), "short rows, blanks, an empty row")
	require.Equal(t, 5, got[0].Advance)
	for _, c := range []struct{ why, art, says string }{
		{"no first line", "###\n", "line 1"},
		{"ink that is none", "e left 0 bottom 0 advance 3\n#x#\n", "column 2"},
		{"grey on a bilevel glyph", "e left 0 bottom 0 advance 3\n#7#\n", "column 2"},
		{"no number", "e left 0 bottom 0 advance\n", "line 1"},
		{"a word too many", "e left 0 bottom 0 advance 3 weight 7\n", "weight"},
	} {
		_, err := ReadArt(strings.NewReader(c.art))
		require.ErrorIs(t, err, ErrInvalid, c.why)
		require.ErrorContains(t, err, c.says, c.why)
	}
}

func TestPicturesReadBackExactly(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for _, depth := range []int{1, 2, 4, 8} {
		for range 30 {
			f := randomFont(rnd, depth)
			f.Cells[0].Bitmap = glyph.Bitmap{Depth: depth} // a space
			for i := range f.Cells {
				c := &f.Cells[i]
				var pbm, pic bytes.Buffer
				require.NoError(t, WritePBM(&pbm, c))
				require.NoError(t, WritePNG(&pic, c, glyph.Dots(203)))
				for _, doc := range [][]byte{pbm.Bytes(), pic.Bytes()} {
					p, err := ParsePicture(doc, depth)
					require.NoError(t, err)
					require.True(t, p.Placed)
					back := glyph.Cell{Advance: p.Advance, Bitmap: p.Bitmap}
					require.Equal(t, c.Digest(), back.Digest(), "depth %d", depth)
				}
			}
		}
	}
}

// Pictures made elsewhere: feep.pbm and feep.pgm of the netpbm manual pages, in
// text; a PNG with transparent paper.
func TestPicturesOfOthersAreRead(t *testing.T) {
	p, err := ParsePicture([]byte("P1\n# a comment\n7 3\n0111100\n0 1 0 0 0 0 0\n0111100\n"), 1)
	require.NoError(t, err)
	require.False(t, p.Placed)
	require.Equal(t, []int{1, 0, 4, 3, 9}, []int{p.Bitmap.Left, p.Bitmap.Bottom, p.Bitmap.Width, p.Bitmap.Height, p.Bitmap.Ink()})
	p, err = ParsePicture([]byte("P2 3 1 15 0 15 5"), 8)
	require.NoError(t, err)
	require.Equal(t, []uint8{255, 0, 170}, []uint8{p.Bitmap.At(0, 0), p.Bitmap.At(1, 0), p.Bitmap.At(2, 0)}, "PGM: 0 is black")
	p, err = ParsePicture([]byte("P2 2 1 2 1 2"), 8)
	require.NoError(t, err)
	require.Equal(t, []uint8{128, 0}, []uint8{p.Bitmap.At(0, 0), p.Bitmap.At(1, 0)}, "half of 255, rounded up")
	p, err = ParsePicture([]byte("P5 2 2 65535 \xFF\xFF\x00\x00\x00\x00\xFF\xFF"), 8)
	require.NoError(t, err)
	require.Equal(t, []uint8{0, 255, 255, 0}, []uint8{p.Bitmap.At(0, 1), p.Bitmap.At(1, 1), p.Bitmap.At(0, 0), p.Bitmap.At(1, 0)},
		"two bytes a sample above 255")
	img := image.NewNRGBA(image.Rect(0, 0, 2, 1))
	img.Set(1, 0, color.NRGBA{A: 255})
	var pic bytes.Buffer
	require.NoError(t, png.Encode(&pic, img))
	p, err = ParsePicture(pic.Bytes(), 1)
	require.NoError(t, err)
	require.Equal(t, []uint8{0, 1}, []uint8{p.Bitmap.At(0, 0), p.Bitmap.At(1, 0)})
	for _, c := range []struct{ why, doc string }{
		{"grey for a bilevel device", "P2 1 1 15 7"},
		{"larger than its file", "P4 16000 16000\n"},
		{"a sample out of range", "P2 1 1 15 16"},
		{"samples missing", "P4 9 2\n\xFF"},
		{"no picture", "GIF89a"},
	} {
		_, err := ParsePicture([]byte(c.doc), 1)
		require.Error(t, err, c.why)
		require.True(t, isInputError(err), c.why)
	}
}

func TestFileNamesComeBackAsNames(t *testing.T) {
	for _, k := range []string{"A", "a", "é%", "with space", "#3", "U+0041", "..", ".notdef", "a/b", "+a", "%41", "con"} {
		require.Equal(t, k, NameOf(FileName(k)), k)
	}
	require.Equal(t, "A", NameOf("A"), "as others name files")
}

func FuzzReadArt(f *testing.F) {
	f.Add([]byte("e left 1 bottom 0 advance 5\n.##.\n####\n#...\n.##.\n"))
	f.Add([]byte("e left 1 bottom 0 advance 5 depth 8\n..7f##\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		cells, err := ReadArt(bytes.NewReader(data))
		if err != nil {
			require.True(t, isInputError(err), err)
			return
		}
		var doc bytes.Buffer
		for i := range cells {
			require.NoError(t, WriteArt(&doc, &cells[i]))
		}
		again, err := ReadArt(&doc)
		require.NoError(t, err)
		require.Len(t, again, len(cells))
		for i := range cells {
			require.Equal(t, cells[i].Digest(), again[i].Digest())
		}
	})
}

func FuzzParsePicture(f *testing.F) {
	rnd := rand.New(rand.NewSource(1))
	for _, depth := range []int{1, 8} {
		c := &randomFont(rnd, depth).Cells[0]
		var pbm, pic bytes.Buffer
		_ = WritePBM(&pbm, c)
		_ = WritePNG(&pic, c, glyph.Dots(300))
		f.Add(pbm.Bytes(), depth == 1)
		f.Add(pic.Bytes(), depth == 1)
	}
	f.Add([]byte("P1 2 1 0 1"), true)
	f.Add([]byte("P2 2 1 9 0 4"), false)
	f.Fuzz(func(t *testing.T, data []byte, bilevel bool) {
		depth := 8
		if bilevel {
			depth = 1
		}
		p, err := ParsePicture(data, depth)
		if err != nil {
			require.True(t, isInputError(err), err)
			return
		}
		c := glyph.Cell{Ref: glyph.Ref{Key: "x"}, Advance: p.Advance, Bitmap: p.Bitmap}
		var doc bytes.Buffer
		require.NoError(t, WritePBM(&doc, &c))
		again, err := ParsePicture(doc.Bytes(), depth)
		require.NoError(t, err)
		back := glyph.Cell{Advance: again.Advance, Bitmap: again.Bitmap}
		require.Equal(t, c.Digest(), back.Digest())
	})
}

func FuzzParsePK(f *testing.F) {
	f.Add(plainPK(0xE0, []byte{0xA5}))
	f.Add(plainPK(0x98, []byte{0x51, 0x1E, 0x20}))
	f.Fuzz(func(t *testing.T, data []byte) {
		font, err := ParsePK(data)
		if err != nil {
			require.ErrorIs(t, err, ErrInvalid)
			return
		}
		font.Size, font.DPI = max(font.Size, 1), glyph.Dots(72)
		sameThroughBDF(t, font)
	})
}

// plainPK is a font of one glyph, 4 × 2, number 65, behind a short header.
func plainPK(flag byte, packed []byte) []byte {
	return onePK(append([]byte{flag, byte(8 + len(packed)), 65, 0x08, 0, 0, 5, 4, 2, 0, 1}, packed...))
}

// onePK is a font of one glyph for 600 dpi, design size 10 pt.
func onePK(packet []byte) []byte {
	p := []byte{pkPre, pkID, 0}
	p = be.AppendUint32(p, 10<<20)
	p = be.AppendUint32(p, 0)
	p = be.AppendUint32(p, 544093)
	p = be.AppendUint32(p, 544093)
	return append(append(p, packet...), pkPost)
}

// The headers' fields are those of T. Rokicki, "Packed (PK) font file format",
// TUGboat 6 (1985), section 3; the length counts what follows the character's number.
func TestPKReadsAGlyphBehindEachOfItsHeaders(t *testing.T) {
	for _, c := range []struct {
		why    string
		packet []byte
	}{
		{"short", []byte{0xE0, 9, 65, 8, 0, 0, 5, 4, 2, 0xFF, 1, 0xA5}},
		{"extended: two bytes a measure", []byte{0xE4, 0, 14, 65, 8, 0, 0, 0, 5, 0, 4, 0, 2, 0xFF, 0xFF, 0, 1, 0xA5}},
		{"long: four bytes each, advances in 16.16", []byte{0xE7, 0, 0, 0, 29, 0, 0, 0, 65, 0, 8, 0, 0, 0, 5, 0, 0, 0, 0, 0, 0,
			0, 0, 0, 4, 0, 0, 0, 2, 0xFF, 0xFF, 0xFF, 0xFF, 0, 0, 0, 1, 0xA5}},
	} {
		f, err := ParsePK(onePK(c.packet))
		require.NoError(t, err, c.why)
		g := &f.Cells[0]
		require.Equal(t, []int{5, 500, 65, 1, 0}, []int{g.Advance, g.SWidth, g.Index, g.Bitmap.Left, g.Bitmap.Bottom}, c.why)
		require.Equal(t, []uint64{0xA << 60, 0x5 << 60}, g.Bitmap.Words, c.why)
	}
}

func TestPKTakesRawBitsAndRuns(t *testing.T) {
	f, err := ParsePK(plainPK(0xE0, []byte{0xA5}))
	require.NoError(t, err)
	c := f.Cells[0]
	require.Equal(t, []int{5, 500, 65}, []int{c.Advance, c.SWidth, c.Index})
	require.Equal(t, "600", f.DPI.String())
	require.Equal(t, "9.963", f.Size.String(), "10 pt of 1/72.27 inch")
	require.Equal(t, uint8(1), c.Bitmap.At(0, 1))
	require.Equal(t, uint8(0), c.Bitmap.At(1, 1))
	require.Equal(t, uint8(1), c.Bitmap.At(1, 0))
	_, err = ParsePK(plainPK(0xE0, nil))
	require.ErrorContains(t, err, "too early")
	_, err = ParsePK(plainPK(0x98, []byte{0xFF}))
	require.ErrorContains(t, err, "twice")
}

// endless gives spaces for ever and counts them.
type endless int

func (e *endless) Read(p []byte) (int, error) {
	*e += endless(len(p))
	return copy(p, bytes.Repeat([]byte{' '}, len(p))), nil
}

func TestAFontIsReadNoFurtherThanItsBound(t *testing.T) {
	for _, c := range []struct {
		reason string
		length int
		fits   bool
	}{
		{"what fills the bound is a font still", 1000, true},
		{"a byte more is refused, not cut off", 1001, false},
	} {
		data, err := readBounded(bytes.NewReader(make([]byte, c.length)), 1000)
		if c.fits {
			require.NoError(t, err, c.reason)
			require.Len(t, data, c.length, c.reason)
		} else {
			require.ErrorIs(t, err, ErrUnsupported, c.reason)
			require.ErrorContains(t, err, "more than 1000 bytes", c.reason)
		}
	}
	var file endless
	_, err := readBounded(&file, 1000)
	require.ErrorIs(t, err, ErrUnsupported)
	require.LessOrEqual(t, int(file), 1001, "a file without end is not read to it")
}
