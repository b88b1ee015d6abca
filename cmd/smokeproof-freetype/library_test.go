//go:build cgo

package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

const (
	dejaVu = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"
	vera   = "/usr/share/fonts/truetype/ttf-bitstream-vera/Vera.ttf"
)

func TestSettingsThatCannotBeHonouredAreRefused(t *testing.T) {
	tests := []struct {
		settings     settings
		says, reason string
	}{
		{settings{hinting: "slight", interpreter: 35}, `--hinting "slight" is unknown`, "no such hinting"},
		{settings{hinting: "full", interpreter: 38}, "--interpreter 38 is unknown", "no such interpreter"},
	}
	for _, tt := range tests {
		require.ErrorContains(t, tt.settings.check(), tt.says, tt.reason)
	}
	require.NoError(t, settings{hinting: "full", interpreter: 40}.check())
}

// drawn draws glyphs of DejaVu Sans at 20 ppem.
func drawn(t *testing.T, s settings, mode glyph.Mode, indices ...int) []glyph.Cell {
	t.Helper()
	return drawnAt(t, s, dejaVu, 20, mode, indices...)
}

func drawnAt(t *testing.T, s settings, font string, ppem int, mode glyph.Mode, indices ...int) []glyph.Cell {
	t.Helper()
	if _, err := os.Stat(font); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skipf("font %s is not installed", font)
	}
	l, err := openLibrary(s)
	require.NoError(t, err)
	defer l.close()
	r := &render.Request{Font: font, PPEM: [2]int{ppem * 64, ppem * 64}, Mode: mode.String()}
	for _, i := range indices {
		r.Glyphs = append(r.Glyphs, render.RequestGlyph{Key: "g", Code: glyph.NoCode, Index: i})
	}
	cells, err := l.draw(r)
	require.NoError(t, err)
	return cells
}

func TestEachModeDrawsItsOwnBitmap(t *testing.T) {
	const m = 80 // the index of "m", whose stems hints move
	full := settings{hinting: "full", interpreter: 35}
	hinted := drawn(t, full, glyph.Bilevel, m)[0]
	require.Equal(t, 1, hinted.Bitmap.Depth)
	require.Equal(t, 974, hinted.SWidth, "1995 of 2048 units, in thousandths")

	none := drawn(t, settings{hinting: "none", interpreter: 35}, glyph.Bilevel, m)[0]
	require.False(t, none.Bitmap.Equal(&hinted.Bitmap), "hints move the stems of m")

	grey := drawn(t, full, glyph.Grey, m)[0]
	require.Equal(t, 8, grey.Bitmap.Depth)
	light := drawn(t, settings{hinting: "light", interpreter: 35}, glyph.Grey, m)[0]
	require.False(t, light.Bitmap.Equal(&grey.Bitmap), "light hinting leaves the stems where they are")
}

func TestAGlyphThatIsNotThereIsLeftOut(t *testing.T) {
	require.Len(t, drawn(t, settings{hinting: "full", interpreter: 35}, glyph.Bilevel, 36, 65000), 1)
}

func TestAdvancesComeFromTheHintsUnlessHdmxIsAskedFor(t *testing.T) {
	// The two glyphs of Vera whose hdmx entry at 11 ppem is not what its program
	// gives: a face in which one can tell where FreeType took the advance from.
	s := settings{hinting: "full", interpreter: 35}
	require.Equal(t, 4, drawnAt(t, s, vera, 11, glyph.Bilevel, 2)[0].Advance, "the program's own advance")
	s.hdmx = true
	require.Equal(t, 3, drawnAt(t, s, vera, 11, glyph.Bilevel, 2)[0].Advance, "the table's advance")
}

func TestATableIsHiddenInEveryDirectoryOfACollection(t *testing.T) {
	directory := "\x00\x01\x00\x00\x00\x01......hdmx............"
	single := []byte(directory)
	hideTable(single, "hdmx")
	require.NotContains(t, string(single), "hdmx", "a font alone")

	collection := []byte("ttcf\x00\x01\x00\x00\x00\x00\x00\x02\x00\x00\x00\x14\x00\x00\x00\x30" + directory + directory)
	hideTable(collection, "hdmx")
	require.NotContains(t, string(collection), "hdmx", "both fonts of a collection")

	cut := []byte("ttcf\x00\x01\x00\x00\xff\xff\xff\xff\x00\x00\xff\x14")
	want := string(cut)
	hideTable(cut, "hdmx")
	require.Equal(t, want, string(cut), "offsets beyond the file are passed over")
}
