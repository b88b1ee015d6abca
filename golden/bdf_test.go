package golden

import (
	"bytes"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func bdfText(size, body string) string {
	return "STARTFONT 2.1\nFONT demo\nSIZE " + size + "\nFONTBOUNDINGBOX 8 16 0 -2\nCHARS 1\n" + body + "ENDFONT\n"
}

func randomFont(rnd *rand.Rand, depth int) *Font {
	f := &Font{Name: "Larkmoor Text", Size: glyph.Pt(8), DPI: glyph.Dots(300), Depth: depth}
	for i, k := range []glyph.Key{"A", "é%", "with space", "#3", "U+0041"} {
		b := glyph.NewBitmap(rnd.Intn(9)-4, rnd.Intn(9)-4, 1+rnd.Intn(150), 1+rnd.Intn(20), depth)
		for range rnd.Intn(60) {
			b.Set(b.Left+rnd.Intn(b.Width), b.Bottom+rnd.Intn(b.Height), uint8(rnd.Intn(256)))
		}
		c := glyph.Cell{Ref: glyph.Ref{Key: k, Code: glyph.NoCode, Index: i}, Advance: rnd.Intn(50), SWidth: rnd.Intn(1000), Bitmap: b}
		nameRef(&c.Ref)
		f.Cells = append(f.Cells, c)
	}
	return f
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for _, depth := range []int{1, 2, 4, 8} {
		for range 50 {
			f := randomFont(rnd, depth)
			var first, second bytes.Buffer
			require.NoError(t, WriteBDF(&first, f))
			got, err := ReadBDF(bytes.NewReader(first.Bytes()))
			require.NoError(t, err)
			require.Len(t, got.Cells, len(f.Cells))
			for i := range f.Cells {
				require.Equal(t, f.Cells[i].Ref, got.Cells[i].Ref)
				require.Equal(t, f.Cells[i].SWidth, got.Cells[i].SWidth)
				require.Equal(t, f.Cells[i].Digest(), got.Cells[i].Digest(), "depth %d", depth)
			}
			require.NoError(t, WriteBDF(&second, f))
			require.Equal(t, first.String(), second.String(), "the same font is the same bytes")
		}
	}
}

// The sample glyph A of the page on BDF at liquisearch.com.
func TestSampleGlyphReadsAsPublished(t *testing.T) {
	rows := strings.Fields("00 00 00 00 18 24 24 42 42 7E 42 42 42 42 00 00")
	f, err := ReadBDF(strings.NewReader(bdfText("16 75 75", "STARTCHAR U+0041\nENCODING 65\nSWIDTH 500 0\nDWIDTH 8 0\nBBX 8 16 0 -2\nBITMAP\n"+strings.Join(rows, "\n")+"\nENDCHAR\n")))
	require.NoError(t, err)
	c := f.Cells[0]
	require.Equal(t, rune('A'), c.Code)
	require.Equal(t, 8, c.Advance)
	require.Equal(t, []int{1, 0, 6, 10}, []int{c.Bitmap.Left, c.Bitmap.Bottom, c.Bitmap.Width, c.Bitmap.Height})
	require.Equal(t, 24, c.Bitmap.Ink())
}

// The depths, default widths and row lengths of FreeType's reader (bdflib.c).
func TestReaderToleratesWhatFreeTypeTolerates(t *testing.T) {
	for _, c := range []struct {
		why, size, body        string
		depth, advance, swidth int
		ink                    int
	}{
		{"DWIDTH missing is the width of BBX, SWIDTH follows", "10 72 72", "BBX 5 1 0 0\nBITMAP\nF8\n", 1, 5, 500, 5},
		{"SWIDTH missing is DWIDTH*72000/(pt*xres)", "10 300 300", "DWIDTH 21 0\nBBX 5 1 0 0\nBITMAP\nF8\n", 1, 21, 504, 5},
		{"a short row is filled with zeros", "10 72 72", "BBX 16 1 0 0\nBITMAP\nFF\n", 1, 16, 1600, 8},
		{"a long row is cut", "10 72 72", "BBX 4 1 0 0\nBITMAP\nFFFF\n", 1, 4, 400, 4},
		{"missing rows are empty", "10 72 72", "BBX 8 3 0 0\nBITMAP\n81\n", 1, 8, 800, 2},
		{"above 1 bit is 2", "10 72 72 2", "BBX 4 1 0 0\nBITMAP\nE4\n", 2, 4, 400, 3},
		{"above 2 bits is 4", "10 72 72 3", "BBX 2 1 0 0\nBITMAP\nF1\n", 4, 2, 200, 2},
		{"above 4 bits is 8", "10 72 72 5", "BBX 1 1 0 0\nBITMAP\n80\n", 8, 1, 100, 1},
	} {
		f, err := ReadBDF(strings.NewReader(bdfText(c.size, "STARTCHAR a\nENCODING 97\n"+c.body+"ENDCHAR\n")))
		require.NoError(t, err, c.why)
		got := f.Cells[0]
		require.Equal(t, []int{c.depth, c.advance, c.swidth, c.ink}, []int{f.Depth, got.Advance, got.SWidth, got.Bitmap.Ink()}, c.why)
	}
}

func TestBrokenFontsAreRefusedWithTheirLine(t *testing.T) {
	for _, c := range []struct{ why, doc, line string }{
		{"not BDF", "hello\n", "line 1:"},
		{"a bitmap larger than the file", bdfText("8 72 72", "STARTCHAR a\nENCODING 97\nBBX 16000 16000 0 0\nBITMAP\n"), "line 8:"},
		{"a glyph without end", bdfText("8 72 72", "STARTCHAR a\nENCODING 97\nBBX 1 1 0 0\n"), "line 9:"},
		{"BITMAP before the box that says its size", bdfText("8 72 72", "STARTCHAR a\nENCODING 97\nBITMAP\nBBX 1 1 0 0\nENDCHAR\n"), "line 8: glyph \"a\": BITMAP stands before BBX"},
		{"a width that 64 bits cannot hold", bdfText("8 72 72", "STARTCHAR a\nENCODING 97\nDWIDTH 18446744073709551617 0\n"), "line 8:"},
		{"no SIZE", "STARTFONT 2.1\nCHARS 1\n", "line 2:"},
	} {
		_, err := ReadBDF(strings.NewReader(c.doc))
		require.ErrorIs(t, err, ErrInvalid, c.why)
		require.ErrorContains(t, err, c.line, c.why)
	}
}

func FuzzReadBDF(f *testing.F) {
	f.Add([]byte(bdfText("8 72 72", "STARTCHAR a\nENCODING 97\nBBX 4 1 0 0\nBITMAP\nF0\nENDCHAR\n")))
	f.Fuzz(func(t *testing.T, data []byte) {
		font, err := ReadBDF(bytes.NewReader(data))
		if err != nil {
			return
		}
		var b bytes.Buffer
		require.NoError(t, WriteBDF(&b, font))
		again, err := ReadBDF(&b)
		require.NoError(t, err)
		require.Len(t, again.Cells, len(font.Cells))
	})
}
