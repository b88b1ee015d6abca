package raster

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// modes are all that an outline may ask for: SCANTYPE's arguments, and none.
var modes = []glyph.Dropout{glyph.DropoutOff, 0, 1, 2, 3, 4, 5, 6, 7}

// Every third glyph of two faces, unhinted so that edges fall anywhere, in every
// dropout mode, against ftraster.c. 200 ppem is more than FreeType's pool takes
// at once.
func TestGlyphsAreWhatFreeTypeDraws(t *testing.T) {
	ft := freeType(t)
	for _, font := range []string{"dejavu/DejaVuSans.ttf", "liberation2/LiberationSerif-Italic.ttf"} {
		path := filepath.Join("/usr/share/fonts/truetype", font)
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		f, err := face.Open(path, 0)
		require.NoError(t, err)
		var c comparison
		for _, ppem := range []fixed.Int26_6{7*64 + 13, 17 * 64, 33*64 + 21, 200 * 64} {
			for i, ref := range f.Refs() {
				if i%3 != 0 {
					continue
				}
				d, err := f.Design(ref.Index)
				require.NoError(t, err)
				o := d.Scaled(glyph.PPEM{X: ppem, Y: ppem})
				c.compare(t, ft, &o, modes[i%len(modes)], ppem < 24*64, fmt.Sprintf("glyph %q at %v ppem", ref.Key, ppem))
			}
		}
		c.report(t, font)
	}
}

// Ten thousand outlines of random lines and curves, many of them thin, crossing,
// wound the wrong way or with points on pixel centres.
func TestRandomOutlinesAreWhatFreeTypeDraws(t *testing.T) {
	const seed, outlines = 1, 10_000
	ft := freeType(t)
	rng := rand.New(rand.NewPCG(seed, seed))
	var c comparison
	for i := range outlines {
		o := randomOutline(rng)
		c.compare(t, ft, o, modes[rng.IntN(len(modes))], rng.IntN(2) == 0, fmt.Sprintf("outline %d of seed %d", i, seed))
	}
	c.report(t, "random outlines")
}

// randomOutline draws contours in a box of its own, so that slivers and specks
// are as frequent as large shapes, and rounds their points to a grid of its own.
func randomOutline(rng *rand.Rand) *glyph.Outline {
	o := &glyph.Outline{}
	grid := fixed.Int26_6([]int{1, 1, 8, 32, 64}[rng.IntN(5)])
	width, height := 1<<(4+rng.IntN(8)), 1<<(4+rng.IntN(8))
	point := func(k glyph.Kind) {
		x, y := fixed.Int26_6(rng.IntN(width)-width/4), fixed.Int26_6(rng.IntN(height)-height/4)
		o.Points = append(o.Points, glyph.Point{X: x / grid * grid, Y: y / grid * grid, Kind: k})
	}
	cubics := rng.IntN(3) == 0
	for range 1 + rng.IntN(4) {
		if cubics || rng.IntN(4) > 0 {
			point(glyph.OnCurve)
		} else {
			point(glyph.Quad)
		}
		for range 1 + rng.IntN(6) {
			switch {
			case rng.IntN(2) == 0:
				point(glyph.OnCurve)
			case cubics:
				point(glyph.Cubic)
				point(glyph.Cubic)
				point(glyph.OnCurve)
			default:
				point(glyph.Quad)
			}
		}
		o.Ends = append(o.Ends, len(o.Points)-1)
		if rng.IntN(4) == 0 {
			o.Modes = append(o.Modes, glyph.Dropout(rng.IntN(8)))
		} else {
			o.Modes = append(o.Modes, glyph.DropoutKeep)
		}
	}
	return o
}

// comparison counts agreement and keeps the first differences.
type comparison struct {
	drawn, equal int
	differences  []string
}

func (c *comparison) compare(t *testing.T, ft *secondOpinion, o *glyph.Outline, mode glyph.Dropout, high bool, what string) {
	if len(o.Points) == 0 {
		return
	}
	want, drawn := ft.bilevel(t, o, mode, high)
	require.True(t, drawn, "FreeType refuses %s", what)
	r := Rasterizer{HighPrecision: high}
	got, err := r.Bilevel(o, glyph.Center, mode)
	require.NoError(t, err, what)
	c.drawn++
	if got.Equal(&want) {
		c.equal++
	} else if len(c.differences) < 3 {
		c.differences = append(c.differences, fmt.Sprintf("%s, mode %d, contours %v, high precision %t: ours at %d %d\n%sFreeType's at %d %d\n%s%+v",
			what, mode, o.Modes, high, got.Left, got.Bottom, art(&got), want.Left, want.Bottom, art(&want), o))
	}
}

func (c *comparison) report(t *testing.T, what string) {
	t.Helper()
	t.Logf("%s: %d of %d agree", what, c.equal, c.drawn)
	require.Positive(t, c.drawn)
	require.Equal(t, c.drawn, c.equal, "%s: all must agree; the first differences:\n%v", what, c.differences)
}
