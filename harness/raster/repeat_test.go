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
				for c := range o.Ends {
					moved.Recurs = append(moved.Recurs, int32(1+8*i+c))
				}
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
					moved.Recurs = append(moved.Recurs, 1) // which is another's
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
	o.Recurs = []int32{1, 2}
	var r, ordered Rasterizer
	want := ordered.drawnInOrder(t, o, glyph.DropoutType1)
	for range 4 {
		got, err := r.Bilevel(o, glyph.Center, glyph.DropoutType1)
		require.NoError(t, err)
		require.True(t, got.Equal(&want), "%s\nwant\n%s", art(&got), art(&want))
	}
}

// Contours of one number are drawn from memory only where nothing differs that their crossings hang on.
func TestANumberAloneMakesNoContourKnown(t *testing.T) {
	contour := func() *glyph.Outline {
		o := rect(-300, -200, -240, -140)
		o.Points = append(o.Points, []glyph.Point{
			{X: 70, Y: 75}, {X: 250, Y: 76, Kind: glyph.Quad}, {X: 500, Y: 85, Kind: glyph.Quad}, {X: 640, Y: 600}, {X: 90, Y: 570},
		}...)
		o.Ends, o.Recurs = append(o.Ends, 8), []int32{0, 1}
		return o
	}
	move := func(o *glyph.Outline, x, y fixed.Int26_6) {
		for i := range o.Points {
			o.Points[i].X, o.Points[i].Y = o.Points[i].X+x, o.Points[i].Y+y
		}
	}
	for _, c := range []struct {
		reason string
		change func(*glyph.Outline)
		high   bool
		mode   glyph.Dropout
		known  bool
	}{
		{reason: "nothing differs", change: func(*glyph.Outline) {}, known: true},
		{reason: "moved by whole pixels", change: func(o *glyph.Outline) { move(o, 128, -64) }, known: true},
		{reason: "in a bitmap that begins elsewhere", change: func(o *glyph.Outline) { o.Points[0].X -= 200 }, known: true},
		{reason: "moved along X by less", change: func(o *glyph.Outline) { move(o, 1, 0) }},
		{reason: "moved along Y by less", change: func(o *glyph.Outline) { move(o, 0, 1) }},
		{reason: "another X", change: func(o *glyph.Outline) { o.Points[7].X-- }},
		{reason: "another Y", change: func(o *glyph.Outline) { o.Points[7].Y-- }},
		{reason: "another kind", change: func(o *glyph.Outline) { o.Points[6].Kind = glyph.OnCurve }},
		{reason: "a point less", change: func(o *glyph.Outline) { o.Points, o.Ends[1] = o.Points[:8], 7 }},
		{reason: "a point more", change: func(o *glyph.Outline) { o.Points, o.Ends[1] = append(o.Points, glyph.Point{X: 80, Y: 300}), 9 }},
		{reason: "another number", change: func(o *glyph.Outline) { o.Recurs[1] = 2 }},
		{reason: "no number", change: func(o *glyph.Outline) { o.Recurs[1] = 0 }},
		{reason: "stubs left out", change: func(*glyph.Outline) {}, mode: glyph.DropoutType1},
		{reason: "finer steps", change: func(*glyph.Outline) {}, high: true},
		{reason: "the point half-way between controls is rounded up, before the bitmap's first centre", change: func(o *glyph.Outline) {
			o.Points[0], o.Points[1], o.Points[2], o.Points[3] = o.Points[4], o.Points[4], o.Points[4], o.Points[4]
		}},
	} {
		t.Run(c.reason, func(t *testing.T) {
			var r Rasterizer
			_, err := r.Bilevel(contour(), glyph.Center, 0)
			require.NoError(t, err)
			r.HighPrecision = c.high
			o := contour()
			c.change(o)
			require.Equal(t, c.known, r.knows(t, o, c.mode))
			ordered := Rasterizer{HighPrecision: c.high}
			want := ordered.drawnInOrder(t, o, c.mode)
			got, err := r.Bilevel(o, glyph.Center, c.mode)
			require.NoError(t, err)
			require.True(t, got.Equal(&want), "%s\nwant\n%s", art(&got), art(&want))
		})
	}
}

// knows says that an outline's last contour would be drawn from memory.
func (r *Rasterizer) knows(t *testing.T, o *glyph.Outline, mode glyph.Dropout) bool {
	b, err := r.box(o, 1, pixelCenters)
	require.NoError(t, err)
	p, last, out := coarse, len(o.Ends)-1, mode&3 != 0
	if r.HighPrecision {
		p = fine
	}
	r.sweep.repeats.ready(p)
	_, _, known := r.sweep.repeats.find(o.Recurs[last], o.Points[o.Ends[last-1]+1:], b.Left, b.Bottom, stubs{out, out})
	return known
}
