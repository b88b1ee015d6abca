package gridfit

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"fmt"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Hinted points of every glyph of Luxi Sans at 12 ppem, as the module
// github.com/golang/freetype publishes them, dumped from FreeType 2.5.1:
// "advance xmin ymin xmax ymax;x y on, …" a line.
func TestHintedPointsAreThoseOfThePublishedDump(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/golang/freetype").Output()
	require.NoError(t, err)
	data := filepath.Join(strings.TrimSpace(string(dir)), "testdata")
	f, err := face.Open(filepath.Join(data, "luxisr.ttf"), 0)
	require.NoError(t, err)
	dump, err := os.Open(filepath.Join(data, "luxisr-12pt-with-hinting.txt"))
	require.NoError(t, err)
	defer dump.Close()
	fit := NewTrueType(f.(*face.TrueType), glyph.PPEM{X: fixed.I(12), Y: fixed.I(12)})
	lines := bufio.NewScanner(dump)
	lines.Buffer(nil, 1<<20)
	require.True(t, lines.Scan())
	require.Equal(t, "freetype version 2.5.1", lines.Text())
	glyphs := 0
	for ; lines.Scan(); glyphs++ {
		got, err := fit.Fit(glyphs)
		require.NoError(t, err)
		head, points, _ := strings.Cut(lines.Text(), ";")
		require.True(t, strings.HasPrefix(head, fmt.Sprintf("%d ", got.Advance.Round()*64)), "advance of glyph %d: %s", glyphs, head)
		require.Equal(t, strings.TrimSpace(points), dumped(got), "glyph %d", glyphs)
	}
	require.Equal(t, 391, glyphs)
}

func dumped(f *Fitted) string {
	var all []string
	for _, p := range f.Outline.Points {
		on := 0
		if p.Kind == glyph.OnCurve {
			on = 1
		}
		all = append(all, fmt.Sprintf("%d %d %d", p.X, p.Y, on))
	}
	return strings.Join(all, ", ")
}
