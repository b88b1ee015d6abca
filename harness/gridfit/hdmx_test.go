package gridfit

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// The hdmx tables of the Vera faces are instructed advances that no rasterizer
// of ours made. With the table taken out of the font, FreeType 2.12.1 misses the
// same entries as we do: two blank glyphs at 11 ppem in Vera, VeraSe and VeraIt,
// 3.4966 px, which 26.6 makes 3.5.
func TestInstructedAdvancesAreThoseThatVeraRecords(t *testing.T) {
	for name, ties := range map[string]int{"Vera": 2, "VeraSe": 2, "VeraBd": 0, "VeraSeBd": 0, "VeraIt": 2, "VeraBI": 0} {
		path := filepath.Join("/usr/share/fonts/truetype/ttf-bitstream-vera", name+".ttf")
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		f, err := face.Open(path, 0)
		require.NoError(t, err)
		tt := f.(*face.TrueType)
		entries, wrong := 0, 0
		for ppem, widths := range tt.HDMX() {
			fit := NewTrueType(tt, glyph.PPEM{X: fixed.I(ppem), Y: fixed.I(ppem)})
			for i, want := range widths {
				got, err := fit.Fit(i)
				require.NoError(t, err)
				entries++
				if got.Advance.Round() != int(want) {
					t.Logf("%s %d ppem glyph %d: %d/64 against %d", name, ppem, i, got.Advance, want)
					wrong++
				}
			}
		}
		t.Logf("%s: %d of %d advances", name, entries-wrong, entries)
		require.Greater(t, entries, 5000)
		require.Equal(t, ties, wrong, name)
	}
}
