package review

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// proofed is one changed l among four letters that stand, often enough to fill
// more than one small sheet.
func proofed(dpi, mode string, times int) (*harness.Results, *harness.Surround) {
	res := results()
	for i := range times {
		c := one("l")
		c.Code, c.DPI, c.Mode = 'l', dpi, mode
		if i > 0 {
			c.Code = 0xE000 + i
		}
		res.Changes = append(res.Changes, c)
	}
	letters := harness.Letters{Face: "text", Device: "label", Size: "8"}
	for _, r := range "tainso" {
		letters.Cells = append(letters.Cells, harness.Standing{Code: int(r), Picture: harness.Picture{Width: 3, Height: 4, Depth: 1, Advance: 5, Rows: "oKCgoA=="}})
	}
	return res, &harness.Surround{Letters: []harness.Letters{letters}}
}

func TestAPrintedProofHasEveryPixel(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is missing; install the Debian package poppler-utils")
		}
		t.Skip("pdftoppm is missing")
	}
	for _, test := range []struct {
		reason, dpi, paper string
		sheets             int
	}{
		{"a label printer", "203", "a4", 1},
		{"8 dots a millimetre is no whole dpi", "203.2", "104x150", 1},
		{"a laser engine, a size that is whole in points", "300", "a4", 1},
		{"600 dpi", "600", "letter", 1},
		{"pixels that are not square", "203x406", "104x150", 1},
		{"more than a sheet", "203", "60x60", 9},
	} {
		dir := t.TempDir()
		res, around := proofed(test.dpi, "bilevel", 1+(test.sheets-1)*4)
		paper, err := ParsePaper(test.paper)
		require.NoError(t, err)
		made, err := WriteProofs(t.Context(), dir, res, around, paper)
		require.NoError(t, err, test.reason)
		require.Equal(t, 1, made.Strikes)
		if test.sheets == 1 {
			require.Equal(t, 1, made.Sheets, test.reason)
		} else {
			require.Greater(t, made.Sheets, 1, test.reason)
		}
		x, y, two := strings.Cut(test.dpi, "x")
		if !two {
			y = x
		}
		out, err := exec.Command(tool, "-mono", "-rx", x, "-ry", y, filepath.Join(dir, "proof-001.pdf"), filepath.Join(dir, "read")).CombinedOutput()
		require.NoError(t, err, "%s", out)
		sheets, err := filepath.Glob(filepath.Join(dir, "proof-001-*.pbm"))
		require.NoError(t, err)
		read, err := filepath.Glob(filepath.Join(dir, "read-*.pbm"))
		require.NoError(t, err)
		require.Len(t, read, made.Sheets)
		for i := range sheets {
			want, err := os.ReadFile(sheets[i])
			require.NoError(t, err)
			got, err := os.ReadFile(read[i])
			require.NoError(t, err)
			require.True(t, bytes.Equal(want, got), "%s: sheet %d is not what was written, pixel for pixel", test.reason, i+1)
		}
	}
}

func TestAProofHoldsBothLinesAndMarksBelowThem(t *testing.T) {
	res, around := proofed("300", "bilevel", 1)
	p := proofs(proofStrikes(res, around))[0]
	st := p[0]
	sheets, err := p.set(A4)
	require.NoError(t, err)
	s := sheets[0]
	row := st.rows(A4, glyph.Dots(300))[0]
	require.Len(t, row.words[0], 5, "tails: the l changed, four letters stand")
	blank := newProofSheet(A4, glyph.Dots(300))
	blank.head(p.title(), 1)
	blank.heading("")
	base := blank.pen - row.above
	l := s.x(marginMM10) + s.x(labelMM10) + 3*5 // after t, a, i
	require.Equal(t, []uint8{1, 0}, []uint8{s.At(l, base), s.At(l+1, base)}, "the golden l is a pixel wide")
	base -= row.deep + s.y(lineGapMM10) + row.above
	require.Equal(t, []uint8{1, 1}, []uint8{s.At(l, base), s.At(l+1, base)}, "the candidate is two")
	require.Zero(t, s.At(l+1, base-row.deep-1), "no mark touches the type")
	require.Equal(t, uint8(1), s.At(l+1, base-row.deep-s.y(8)-1), "the mark is under the l")
}

func TestAProofsPictureIsTheSheetAndSaysItsResolution(t *testing.T) {
	res, around := proofed("300", "bilevel", 1)
	sheets, err := proofs(proofStrikes(res, around))[0].set(A4)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, sheets[0].writePNG(&b))
	at := bytes.Index(b.Bytes(), []byte("pHYs"))
	require.Positive(t, at)
	require.Equal(t, uint32(11811), binary.BigEndian.Uint32(b.Bytes()[at+4:]), "300 dpi in pixels per metre (W3C PNG 11.3.5.3)")
	img, err := png.Decode(&b)
	require.NoError(t, err)
	s := sheets[0]
	require.Equal(t, image.Rect(0, 0, s.Width, s.Height), img.Bounds())
	for y := range s.Height {
		for x := range s.Width {
			if ink := color.GrayModel.Convert(img.At(x, s.Height-1-y)) == (color.Gray{}); ink != (s.At(x, y) == 1) {
				t.Fatalf("pixel %d, %d: ink is %v in the picture", x, y, ink)
			}
		}
	}
}

func TestStrikesOfADeviceShareASheetSizesAscending(t *testing.T) {
	res, around := proofed("300", "bilevel", 1)
	for _, size := range []string{"12", "6"} {
		c := res.Changes[0]
		c.Size = size
		res.Changes = append(res.Changes, c)
	}
	other := res.Changes[0]
	other.Device, other.DPI = "laser", "600"
	res.Changes = append(res.Changes, other)
	made, err := WriteProofs(t.Context(), t.TempDir(), res, around, A4)
	require.NoError(t, err)
	require.Equal(t, Proofs{Strikes: 4, Sheets: 2}, *made)
	require.Equal(t, "text, 6, 8, 12 pt at 300 dpi, label", proofs(proofStrikes(res, around))[0].title())
}

func TestSheetsOfAnEarlierProofAreGone(t *testing.T) {
	dir := t.TempDir()
	res, around := proofed("300", "bilevel", 1)
	other := res.Changes[0]
	other.Device, other.DPI = "laser", "600"
	both := *res
	both.Changes = append(both.Changes, other)
	_, err := WriteProofs(t.Context(), dir, &both, around, A4)
	require.NoError(t, err)
	require.FileExists(t, filepath.Join(dir, "proof-002-01.png"))
	own := filepath.Join(dir, "proof-mine.pdf")
	require.NoError(t, os.WriteFile(own, nil, 0o666))
	_, err = WriteProofs(t.Context(), dir, res, around, A4)
	require.NoError(t, err)
	left, err := filepath.Glob(filepath.Join(dir, "proof-002*"))
	require.NoError(t, err)
	require.Empty(t, left, "somebody would print what was decided long ago")
	require.FileExists(t, own)
}

func TestGreyStrikesAreNamedAndLeftOut(t *testing.T) {
	res, around := proofed("300", "grey", 1)
	made, err := WriteProofs(t.Context(), t.TempDir(), res, around, A4)
	require.NoError(t, err)
	require.Zero(t, made.Sheets)
	require.Len(t, made.Grey, 1)
}

func TestPaperThatCannotBeMeantIsRefused(t *testing.T) {
	for _, s := range []string{"", "a5", "10x10", "210x297mm", "x", "99999x100"} {
		_, err := ParsePaper(s)
		require.Error(t, err, s)
	}
}

func TestASheetSpellsItsWordsInASCII(t *testing.T) {
	for _, c := range []struct{ reason, line, want string }{
		{"a range of sizes", "6–14 pt", "6-14 pt"},
		{"letters with marks", "Köln Šárka", "Koln Sarka"},
		{"what has no letter of ASCII", "Straße 東", "Stra<U+00DF>e <U+6771>"},
		{"a name that was cut", "text…", "text..."},
	} {
		require.Equal(t, c.want, inASCII(c.line), c.reason)
		printed := func(line string) []uint64 {
			s := newProofSheet(Paper{Width: 90, Height: 60}, glyph.Dots(203))
			s.text(40, 200, line)
			require.NotZero(t, s.Ink())
			return s.Words
		}
		require.Equal(t, printed(c.want), printed(c.line), c.reason)
	}
}
