package face

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// buildFTOutline compiles the second opinion; a machine without FreeType skips,
// CI fails.
func buildFTOutline(t *testing.T) string {
	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("libfreetype-dev is not installed")
	}
	require.NoError(t, err, "pkg-config freetype2")
	bin := filepath.Join(t.TempDir(), "ftoutline")
	args := append([]string{"-O1", "-o", bin, "testdata/ftoutline.c"}, strings.Fields(string(flags))...)
	out, err := exec.Command("cc", args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return bin
}

// fontFiles lists the fonts that match; none is a skip, or a failure in CI.
func fontFiles(t *testing.T, pattern string) []string {
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	if len(files) == 0 && os.Getenv("CI") != "true" {
		t.Skipf("no font matches %s; install its package", pattern)
	}
	require.NotEmpty(t, files, "no font matches %s", pattern)
	return files
}

// tally counts what a comparison saw.
type tally struct{ glyphs, equal, refused int }

// compareWithFreeType holds outlines and advances against FreeType's in font
// units. FreeType cuts fractions of a unit off (psft.c gives whole units where
// nothing is scaled), so a coordinate is equal if it lies in that unit.
func compareWithFreeType(t *testing.T, bin, path string, index, step int) (c tally) {
	f, err := Open(path, index)
	require.NoError(t, err)
	out, err := exec.Command(bin, path, strconv.Itoa(index), strconv.Itoa(step)).Output()
	require.NoError(t, err, path)
	in := bufio.NewReader(bytes.NewReader(out))
	var upem, glyphs int
	_, err = fmt.Fscanf(in, "f %d %d\n", &upem, &glyphs)
	require.NoError(t, err)
	require.Equal(t, upem, f.UPEM(), path)
	require.Len(t, f.Refs(), glyphs, path)
	for {
		var g, points, contours, advance int
		_, err := fmt.Fscanf(in, "g %d %d %d %d\n", &g, &points, &contours, &advance)
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return c
		}
		require.NoError(t, err)
		c.glyphs++
		d, err := f.(PostScript).Drawing(g)
		if points < 0 {
			require.Error(t, err, "%s glyph %d: FreeType refuses it", path, g)
			c.refused++
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if why := sameOutline(in, d, points, contours, advance); why != "" {
			t.Errorf("%s: glyph %d (%s): %s", path, g, f.Refs()[g].Key, why)
			continue
		}
		c.equal++
	}
}

func sameOutline(in *bufio.Reader, d *Drawing, points, contours, advance int) (why string) {
	differ := func(format string, args ...any) {
		if why == "" {
			why = fmt.Sprintf(format, args...)
		}
	}
	o := &d.Outline
	if len(o.Points) != points || len(o.Ends) != contours {
		differ("%d points in %d contours, FreeType has %d in %d", len(o.Points), len(o.Ends), points, contours)
	}
	if got := d.Advance; got <= fixed.I(advance-1) || got >= fixed.I(advance+1) {
		differ("advance %v, FreeType has %d in whole units", got, advance)
	}
	for i := range points {
		var x, y, tag int
		_, _ = fmt.Fscanf(in, "%d %d %d\n", &x, &y, &tag)
		if why != "" {
			continue
		}
		p := o.Points[i]
		kind := map[int]glyph.Kind{1: glyph.OnCurve, 2: glyph.Cubic}[tag]
		if !within(p.X, x) || !within(p.Y, y) || p.Kind != kind {
			differ("point %d is %v %v, FreeType has %d %d %d", i, p.X, p.Y, x, y, tag)
		}
	}
	for i := range contours {
		var end int
		_, _ = fmt.Fscanf(in, "%d\n", &end)
		if why == "" && o.Ends[i] != end {
			differ("contour %d ends at %d, FreeType's at %d", i, o.Ends[i], end)
		}
	}
	return why
}

func within(v fixed.Int26_6, unit int) bool { return v >= fixed.I(unit) && v <= fixed.I(unit+1) }

// The whole of a package is a slow suite; one or two faces of each kind are
// read in every test run.
func TestOutlinesAreWhatFreeTypeReads(t *testing.T) {
	bin := buildFTOutline(t)
	slice := []string{
		"/usr/share/fonts/X11/Type1/c0648bt_.pfb",
		"/usr/share/fonts/type1/urw-base35/NimbusRoman-Italic.t1",
		"/usr/share/fonts/opentype/urw-base35/NimbusSans-Bold.otf",
		"../../fixtures/larkmoor-text-*.pfb",
		"../../fixtures/larkmoor-text-*.otf",
	}
	if os.Getenv("SMOKEPROOF_OUTLINES") != "" {
		slice = []string{
			"/usr/share/fonts/X11/Type1/*.pfb",
			"/usr/share/fonts/type1/urw-base35/*.t1",
			"/usr/share/fonts/opentype/urw-base35/*.otf",
			"/usr/share/texlive/texmf-dist/fonts/type1/public/amsfonts/*/*.pfb",
			"/usr/share/texmf/fonts/type1/public/cm-super/*.pfb",
			"/usr/share/texmf/fonts/opentype/public/*/*.otf",
			"/usr/share/fonts/opentype/cantarell/*.otf",
		}
	}
	for _, pattern := range slice {
		t.Run(pattern, func(t *testing.T) {
			var sum tally
			for _, path := range fontFiles(t, pattern) {
				c := compareWithFreeType(t, bin, path, 0, 1)
				sum = tally{sum.glyphs + c.glyphs, sum.equal + c.equal, sum.refused + c.refused}
			}
			t.Logf("%d of %d glyphs equal, %d refused by both", sum.equal, sum.glyphs, sum.refused)
			require.Positive(t, sum.equal)
		})
	}
}

// A CID-keyed face of 65,535 glyphs and 18 font dicts, every thirtieth glyph.
func TestACIDKeyedFaceIsWhatFreeTypeReads(t *testing.T) {
	if os.Getenv("SMOKEPROOF_OUTLINES") == "" {
		t.Skip("a slow suite: make outlines")
	}
	bin := buildFTOutline(t)
	for _, path := range fontFiles(t, "/usr/share/fonts/opentype/noto/NotoSerifCJK-Regular.ttc") {
		c := compareWithFreeType(t, bin, path, 0, 30)
		t.Logf("%d of %d glyphs equal", c.equal, c.glyphs)
		require.Greater(t, c.equal, 2000)
	}
}
