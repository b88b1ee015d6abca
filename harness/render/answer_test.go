package render

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestACellIsNoFurtherAwayThanAGlyphCanBe(t *testing.T) {
	// 8 pt at 203 × 406 dpi is 22.5 × 45.1 pixels per em: 32 em are 736 and 1,472 at most.
	s := glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Resolution{X: 203000, Y: 406000}}
	for _, c := range []struct {
		reason                               string
		left, bottom, width, height, advance int
		depth                                int
		mode                                 glyph.Mode
		says                                 string
	}{
		{"a glyph like any other", 0, -3, 10, 30, 12, 1, glyph.Bilevel, ""},
		{"an empty one", 0, 0, 0, 0, 12, 1, glyph.Bilevel, ""},
		{"as far right as may be", 735, 0, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"further right", 736, 0, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as far left as may be", -736, 0, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"further left", -737, 0, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as high as may be, which is not as wide", 0, 1471, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"higher", 0, 1472, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"as deep as may be", 0, -1472, 1, 1, 12, 1, glyph.Bilevel, ""},
		{"deeper", 0, -1473, 1, 1, 12, 1, glyph.Bilevel, "absurd"},
		{"the widest advance", 0, 0, 1, 1, 736, 1, glyph.Bilevel, ""},
		{"a wider one", 0, 0, 1, 1, 737, 1, glyph.Bilevel, "absurd"},
		{"the widest to the left", 0, 0, 1, 1, -737, 1, glyph.Bilevel, "absurd"},
		{"grey where the strike is", 0, 0, 1, 1, 12, 8, glyph.Grey, ""},
		{"grey where ink is on or off", 0, 0, 1, 1, 12, 8, glyph.Bilevel, "has 8 bits per pixel; a bilevel strike has 1"},
		{"one bit where the strike is grey", 0, 0, 1, 1, 12, 1, glyph.Grey, "has 1 bits per pixel; a grey strike has 8"},
	} {
		s.Mode = c.mode
		cell := glyph.Cell{Ref: glyph.Ref{Key: "e"}, Advance: c.advance, Bitmap: glyph.Bitmap{Left: c.left, Bottom: c.bottom, Width: c.width, Height: c.height, Depth: c.depth}}
		err := plausible(&cell, s)
		if c.says == "" {
			require.NoError(t, err, c.reason)
		} else {
			require.ErrorContains(t, err, c.says, c.reason)
		}
	}
}

// A bitmap font from elsewhere may have such rows; what a program under development prints may not:
// its ink would be missing without a word.
func TestRowsOfAnAnswerAreAsItsBoxSays(t *testing.T) {
	for _, c := range []struct{ reason, rows, says string }{
		{"two rows of two digits", "F0\n90", ""},
		{"small letters, line ends of Windows", "f0\r\n90\r", ""},
		{"padded to four bytes", "F0000000\n90000000", ""},
		{"ink past the box, in the same byte", "F0\n91", `glyph "e": row 2 of 2 has ink right of its 4 pixels: BBX is too narrow, the rest of the last byte is not zero, or the leftmost pixel is not the highest bit`},
		{"ink past the box, in bytes more", "F000\n9001", `row 2 of 2 is "9001"`},
		{"a character a pixel", "####\n#..#", `glyph "e": row 1 of 2 is "####"; a row of 4 pixels is 2 hexadecimal digits`},
		{"a digit a pixel", "1111\n1001", `row 1 of 2 is "1111"`},
		{"as a programming language writes it", "F0\n0x90", `row 2 of 2 is "0x90"`},
		{"not padded to a byte", "F\n9", `row 1 of 2 is "F"`},
		{"a row too few", "F0", `row 2 of 2 is "ENDCHAR"`},
		{"a row too many", "F0\n90\nF0", `"F0" follows its 2 rows, not ENDCHAR`},
		{"an empty row", "\n90", `row 1 of 2 is ""`},
	} {
		doc := fmt.Sprintf("STARTFONT 2.1\nSIZE 8 203 203\nCHARS 1\nSTARTCHAR e\nENCODING 101\nDWIDTH 6 0\nBBX 4 2 1 0\nBITMAP\n%s\nENDCHAR\nENDFONT\n", c.rows)
		e := glyph.Ref{Key: "e", Code: 'e', Index: 1}
		cells, err := readAnswer([]byte(doc), &Job{Strike: glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Dots(203)}}, []glyph.Ref{e}, true)
		if c.says == "" {
			require.NoError(t, err, c.reason)
			require.Len(t, cells, 1, c.reason)
		} else {
			require.ErrorContains(t, err, c.says, c.reason)
		}
	}
}

func TestAnAnswerIsOfTheSizeAskedFor(t *testing.T) {
	label := glyph.Strike{Size: 8500, DPI: glyph.Resolution{X: 203200, Y: 406400}}
	whole := glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	const other = "it has SIZE %s and was asked for %s; draw what the request says, and write that size"
	for _, c := range []struct {
		reason, size string
		asked        glyph.Strike
		ok           bool
	}{
		{"as asked", "8.5 203.2 406.4", label, true},
		{"with zeros", "8.500 203.20 406.400", label, true},
		{"cut to whole numbers", "8 203 406", label, true},
		{"rounded up to whole numbers", "9 204 407", label, true},
		{"a point less than a size rounded", "7 203 406", label, false},
		{"another fraction", "8.4 203 406", label, false},
		{"axes exchanged", "8 406 203", label, false},
		{"a thousandth of a point cut to two decimals", "7.12 203 203", glyph.Strike{Size: 7125, DPI: glyph.Dots(203)}, true},
		{"less than a point cut to none", "0.5 203 203", glyph.Strike{Size: 500, DPI: glyph.Dots(203)}, true},
		{"whole numbers leave nothing to round", "9 203 203", whole, false},
		{"nor below", "7 203 203", whole, false},
		{"resolution of another device", "8 300 300", whole, false},
		{"along alone", "8 203 300", whole, false},
		{"a size in pixels at 72 dpi", "23 72 72", whole, false},
	} {
		doc := "STARTFONT 2.1\nSIZE " + c.size + "\nCHARS 1\nSTARTCHAR e\nENCODING 101\nDWIDTH 6 0\nBBX 1 1 0 0\nBITMAP\n80\nENDCHAR\nENDFONT\n"
		_, err := readAnswer([]byte(doc), &Job{Strike: c.asked}, []glyph.Ref{{Key: "e", Code: 'e', Index: 1}}, true)
		if c.ok {
			require.NoError(t, err, c.reason)
			continue
		}
		asked := fmt.Sprintf("%s %s %s", c.asked.Size, c.asked.DPI.X, c.asked.DPI.Y)
		require.EqualError(t, err, fmt.Sprintf(other, c.size, asked), c.reason)
	}
}

// What is wrong with a whole answer is said in words that lead to the fault.
func TestAnAnswerThatIsNoneSaysWhatToMend(t *testing.T) {
	for _, c := range []struct{ reason, doc, says string }{
		{"nothing at all", "\n", "it printed nothing; a BDF document goes to standard output"},
		{"words before the document", "loading\nSTARTFONT 2.1\n", `it begins with "loading" and not with STARTFONT; words of its own belong on standard error`},
		{"empty lines are no words", "\n\nSTARTFONT 2.1\nSIZE 8 203 203\nCHARS 0\nENDFONT\n", ""},
		{"no size", "STARTFONT 2.1\nCHARS 0\nENDFONT\n", "SIZE is missing before CHARS"},
		{"no advance", "STARTFONT 2.1\nSIZE 8 203 203\nCHARS 1\nSTARTCHAR e\nENCODING 101\nBBX 1 1 0 0\nBITMAP\n80\nENDCHAR\nENDFONT\n", `glyph "e": it has no DWIDTH, which is its advance`},
		{"another name", "STARTFONT 2.1\nSIZE 8 203 203\nCHARS 1\nSTARTCHAR glyph59\nENCODING 101\nDWIDTH 6 0\nBBX 1 1 0 0\nBITMAP\n80\nENDCHAR\nENDFONT\n", `it drew glyph "glyph59", which nobody asked for; STARTCHAR repeats the key of the request`},
	} {
		_, err := readAnswer([]byte(c.doc), &Job{Strike: glyph.Strike{Size: glyph.Pt(8), DPI: glyph.Dots(203)}}, []glyph.Ref{{Key: "e", Code: 'e', Index: 59}}, true)
		if c.says == "" {
			require.NoError(t, err, c.reason)
		} else {
			require.ErrorContains(t, err, c.says, c.reason)
		}
	}
}
