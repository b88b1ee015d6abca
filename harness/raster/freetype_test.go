package raster

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// buildFTMono compiles the second opinion; a machine without FreeType skips,
// CI fails.
func buildFTMono(t *testing.T) string {
	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("libfreetype-dev is not installed")
	}
	require.NoError(t, err, "pkg-config freetype2")
	bin := filepath.Join(t.TempDir(), "ftmono")
	args := append([]string{"-O1", "-o", bin, "testdata/ftmono.c"}, strings.Fields(string(flags))...)
	out, err := exec.Command("cc", args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return bin
}

// Every glyph of two faces, unhinted so that edges fall anywhere, in every
// dropout mode and both precisions, against FreeType's ftraster.c.
func TestBilevelIsWhatFreeTypeDraws(t *testing.T) {
	bin := buildFTMono(t)
	total, agree := 0, 0
	defer func() { t.Logf("%d of %d agree", agree, total) }()
	for _, font := range []string{"dejavu/DejaVuSans.ttf", "liberation2/LiberationSerif-Italic.ttf"} {
		path := filepath.Join("/usr/share/fonts/truetype", font)
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		for _, mode := range []int{0, 1, 2, 4, 5} {
			for _, ppem := range []int{7*64 + 13, 17 * 64, 33*64 + 21} {
				high := ppem < 24*64
				out, err := exec.Command(bin, path, fmt.Sprint(ppem), fmt.Sprint(mode), map[bool]string{true: "1", false: "0"}[high]).Output()
				require.NoError(t, err)
				same, all, first := compareAll(t, out, glyph.Dropout(mode), high)
				require.Greater(t, all, 2000)
				t.Logf("%s at %d/64 ppem, mode %d: %d of %d glyphs agree", font, ppem, mode, same, all)
				require.Equal(t, all, same, "%s mode %d; first difference:\n%s", font, mode, first)
				total, agree = total+all, agree+same
			}
		}
	}
}

func compareAll(t *testing.T, dump []byte, mode glyph.Dropout, high bool) (same, all int, first string) {
	r := Rasterizer{HighPrecision: high}
	in := bufio.NewReader(bytes.NewReader(dump))
	for {
		var g, points, contours int
		if n, _ := fmt.Fscanf(in, "g %d %d %d\n", &g, &points, &contours); n != 3 {
			return same, all, first
		}
		o := readOutline(t, in, points, contours)
		want := readBitmap(t, in)
		got, err := r.Bilevel(o, glyph.Center, mode)
		require.NoError(t, err)
		all++
		if got.Equal(&want) {
			same++
		} else if first == "" {
			first = fmt.Sprintf("glyph %d\n%s\nFreeType\n%s", g, art(&got), art(&want))
		}
	}
}

func readOutline(t *testing.T, in *bufio.Reader, points, contours int) *glyph.Outline {
	o := &glyph.Outline{}
	for range points {
		var x, y, tag int
		_, err := fmt.Fscanf(in, "%d %d %d\n", &x, &y, &tag)
		require.NoError(t, err)
		kind := map[int]glyph.Kind{0: glyph.Quad, 1: glyph.OnCurve, 2: glyph.Cubic}[tag]
		o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(x), Y: fixed.Int26_6(y), Kind: kind})
	}
	for range contours {
		var end int
		_, err := fmt.Fscanf(in, "%d\n", &end)
		require.NoError(t, err)
		o.Ends = append(o.Ends, end)
	}
	return o
}

func readBitmap(t *testing.T, in *bufio.Reader) glyph.Bitmap {
	var left, top, w, h int
	_, err := fmt.Fscanf(in, "b %d %d %d %d\n", &left, &top, &w, &h)
	require.NoError(t, err)
	b := glyph.NewBitmap(left, top-h, w, h, 1)
	for y := range h {
		line, err := in.ReadString('\n')
		require.NoError(t, err)
		for x := range w {
			if line[x] == '#' {
				b.Set(left+x, top-1-y, 1)
			}
		}
	}
	return b
}

func art(b *glyph.Bitmap) string {
	var sb strings.Builder
	fmt.Fprintf(&sb, "left %d bottom %d\n", b.Left, b.Bottom)
	for y := b.Top() - 1; y >= b.Bottom; y-- {
		for x := b.Left; x < b.Right(); x++ {
			sb.WriteByte(".#"[b.At(x, y)&1])
		}
		sb.WriteByte('\n')
	}
	return sb.String()
}
