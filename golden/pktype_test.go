package golden

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// The PK files of texlive-base, 600 dpi, against pktype's own account of them.
func TestPKReadsAsItsOwnToolTellsIt(t *testing.T) {
	if os.Getenv("SMOKEPROOF_ARCHIVE") != "1" {
		t.Skip("make archive runs it: texlive-base is too big for make test")
	}
	files, err := filepath.Glob("/usr/share/texlive/texmf-dist/fonts/pk/ljfour/public/cm/dpi600/*.pk")
	require.NoError(t, err)
	if len(files) == 0 {
		need(t, os.ErrNotExist, "texlive-base")
	}
	_, err = exec.LookPath("pktype")
	need(t, err, "texlive-binaries (pktype)")
	for _, path := range files {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		f, err := ParsePK(data)
		require.NoError(t, err, path)
		require.Equal(t, glyph.Dots(600), f.DPI, path)
		out, err := exec.Command("pktype", path).Output()
		require.NoError(t, err)
		told := pkTold(t, string(out))
		require.Len(t, f.Cells, len(told), path)
		for i := range f.Cells {
			c := &f.Cells[i]
			w := told[c.Index]
			require.NotNil(t, w, "%s: %d", path, c.Index)
			require.Equal(t, w.Advance, c.Advance, "%s: %d", path, c.Index)
			require.True(t, w.Bitmap.Equal(&c.Bitmap), "%s: %d", path, c.Index)
		}
		sameThroughBDF(t, f)
	}
}

// pkTold rebuilds glyphs from pktype's listing: runs of black stand bare, of
// white in parentheses, repeat counts in brackets.
func pkTold(t *testing.T, text string) map[int]*glyph.Cell {
	out := map[int]*glyph.Cell{}
	for _, part := range strings.Split(text, "Flag byte = ")[1:] {
		var code, length, dyn, tfm, dx, h, w, x, y, flag int
		_, err := fmt.Sscanf(strings.Join(strings.Fields(part), " "),
			"%d Character = %d Packet length = %d Dynamic packing variable = %d TFM width = %d dx = %d Height = %d Width = %d X-offset = %d Y-offset = %d",
			&flag, &code, &length, &dyn, &tfm, &dx, &h, &w, &x, &y)
		require.NoError(t, err, part)
		b := glyph.NewBitmap(-x, y-h+1, w, h, 1)
		_, runs, _ := strings.Cut(part, "Y-offset")
		_, runs, _ = strings.Cut(runs, "\n")
		if dyn == 14 {
			plainRows(&b, runs)
		} else {
			toldRuns(t, &b, runs)
		}
		out[code] = &glyph.Cell{Advance: (dx + 1<<15) >> 16, Bitmap: b}
	}
	return out
}

// plainRows takes a picture of stars and dots.
func plainRows(b *glyph.Bitmap, text string) {
	for y, line := range strings.Split(text, "\n")[:b.Height] {
		for x, r := range strings.TrimPrefix(line, "  ") {
			if r == '*' {
				b.Set(b.Left+x, b.Top()-1-y, 1)
			}
		}
	}
}

func toldRuns(t *testing.T, b *glyph.Bitmap, text string) {
	x, y, repeat := 0, 0, 0
	for text != "" && y < b.Height {
		var n int
		switch c := text[0]; {
		case c == '[':
			_, err := fmt.Sscanf(text, "[%d]", &repeat)
			require.NoError(t, err)
			text = text[strings.IndexByte(text, ']')+1:]
			continue
		case c == '(' || c >= '0' && c <= '9':
			digits := strings.TrimPrefix(text, "(")
			_, err := fmt.Sscanf(digits, "%d", &n)
			require.NoError(t, err)
			text = strings.TrimLeft(digits, "0123456789")
			text = strings.TrimPrefix(text, ")")
			for ; n > 0; n-- {
				if c != '(' {
					b.Set(b.Left+x, b.Top()-1-y, 1)
				}
				if x++; x == b.Width {
					for r := range repeat {
						copy(b.Row(y+r+1), b.Row(y))
					}
					x, y, repeat = 0, y+repeat+1, 0
				}
			}
		default:
			text = text[1:]
		}
	}
}
