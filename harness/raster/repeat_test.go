package raster

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Contours met before are not cut again. Random outlines, moved by whole pixels, some
// with a block beside them so that the bitmap begins elsewhere, must come out as from
// their edges in order.
func TestContoursThatRepeatAreDrawnAsAtFirst(t *testing.T) {
	const seed, outlines, times = 3, 3000, 5
	rng := rand.New(rand.NewPCG(seed, seed))
	for _, high := range []bool{false, true} {
		r, ordered := Rasterizer{HighPrecision: high}, Rasterizer{HighPrecision: high}
		for i := range outlines {
			o, mode := randomOutline(rng), modes[rng.IntN(len(modes))]
			for range times {
				moved := &glyph.Outline{Points: slices.Clone(o.Points), Ends: slices.Clone(o.Ends)}
				dx, dy := fixed.I(rng.IntN(40)-20), fixed.I(rng.IntN(40)-20)
				for k := range moved.Points {
					moved.Points[k].X += dx
					moved.Points[k].Y += dy
				}
				if rng.IntN(2) == 0 {
					x, y := dx-fixed.Int26_6(rng.IntN(1000)), dy-fixed.Int26_6(rng.IntN(1000))
					for _, p := range [][2]fixed.Int26_6{{x, y}, {x, y + 100}, {x + 100, y + 100}, {x + 100, y}} {
						moved.Points = append(moved.Points, glyph.Point{X: p[0], Y: p[1]})
					}
					moved.Ends = append(moved.Ends, len(moved.Points)-1)
				}
				want := ordered.drawnInOrder(t, moved, mode)
				got, err := r.Bilevel(moved, glyph.Center, mode)
				require.NoError(t, err)
				if !got.Equal(&want) {
					t.Fatalf("outline %d of seed %d, mode %d\n%s\nwant\n%s", i, seed, mode, art(&got), art(&want))
				}
			}
		}
		learned := slices.IndexFunc(r.sweep.repeats.known, func(f figure) bool { return f.tallies.to > 0 })
		require.GreaterOrEqual(t, learned, 0, "no contour was learned")
	}
}

// A stroke from 1/64 px left of a centre to 1/64 px right of the next one is one pixel wide, though
// its right edge is that of a counter, whose own first centre lies a pixel on.
func TestAStrokeBesideACounterThatRepeatsStaysAPixel(t *testing.T) {
	o := rect(31, 0, 700, 700)
	for _, p := range [][2]fixed.Int26_6{{97, 100}, {600, 100}, {600, 600}, {97, 600}} {
		o.Points = append(o.Points, glyph.Point{X: p[0], Y: p[1]})
	}
	o.Ends = append(o.Ends, len(o.Points)-1)
	var r, ordered Rasterizer
	want := ordered.drawnInOrder(t, o, glyph.DropoutType1)
	for range 4 {
		got, err := r.Bilevel(o, glyph.Center, glyph.DropoutType1)
		require.NoError(t, err)
		require.True(t, got.Equal(&want), "%s\nwant\n%s", art(&got), art(&want))
	}
}
