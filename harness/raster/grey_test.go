package raster

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// contours makes an outline of polygons, each a list of x, y in 64ths of a pixel.
func contours(polygons ...[]fixed.Int26_6) *glyph.Outline {
	o := &glyph.Outline{}
	for _, p := range polygons {
		for i := 0; i < len(p); i += 2 {
			o.Points = append(o.Points, glyph.Point{X: p[i], Y: p[i+1]})
		}
		o.Ends = append(o.Ends, len(o.Points)-1)
	}
	return o
}

// upright is a rectangle, clockwise; reversed is one that runs the other way.
func upright(x0, y0, x1, y1 fixed.Int26_6) []fixed.Int26_6 {
	return []fixed.Int26_6{x0, y0, x0, y1, x1, y1, x1, y0}
}

func reversed(x0, y0, x1, y1 fixed.Int26_6) []fixed.Int26_6 {
	return []fixed.Int26_6{x0, y0, x1, y0, x1, y1, x0, y1}
}

// All areas are parts of the one pixel from (0, 0) to (1, 1), counted on paper.
func TestWhatIsCoveredTwiceCountsOnce(t *testing.T) {
	for _, c := range []struct {
		reason  string
		outline *glyph.Outline
		want    uint8 // of 256, 255 at most
	}{
		{"a half", contours(upright(0, 0, 32, 64)), 128},
		{"the same half twice", contours(upright(0, 0, 32, 64), upright(0, 0, 32, 64)), 128},
		{"columns 0-32 and 16-48 are 0-48", contours(upright(0, 0, 32, 64), upright(16, 0, 48, 64)), 192},
		{"columns 0-48 and rows 0-48: all but a corner of 1/16", contours(upright(0, 0, 48, 64), upright(0, 0, 64, 48)), 240},
		{"a hole runs the other way", contours(upright(0, 0, 64, 64), reversed(16, 16, 48, 48)), 192},
		{"a hole that runs the same way is none", contours(upright(0, 0, 64, 64), upright(16, 16, 48, 48)), 255},
		{"opposite ways, side by side: two quarters", contours(upright(0, 0, 16, 64), reversed(48, 0, 64, 64)), 128},
		{"opposite ways, overlapping: the overlap winds to zero", contours(upright(0, 0, 40, 64), reversed(24, 0, 64, 64)), 192},
		{"a contour in two turns", contours([]fixed.Int26_6{0, 0, 0, 64, 32, 64, 32, 0, 0, 0, 0, 64, 32, 64, 32, 0}), 128},
		{"a bow tie: two triangles of a quarter each", contours([]fixed.Int26_6{0, 0, 64, 64, 64, 0, 0, 64}), 128},
		{"two crossing diagonal halves: three quarters", contours([]fixed.Int26_6{0, 0, 0, 64, 64, 0}, []fixed.Int26_6{0, 0, 64, 64, 64, 0}), 192},
		{"touching edges leave no seam", contours(upright(0, 0, 21, 64), upright(21, 0, 64, 64)), 255},
		{"touching edges of opposite ways neither", contours(upright(0, 0, 21, 64), reversed(21, 0, 64, 64)), 255},
	} {
		var r Rasterizer
		b, err := r.Grey(c.outline)
		require.NoError(t, err)
		require.Equal(t, c.want, b.At(0, 0), c.reason)
	}
}

// Fills by area go by the same union.
func TestAreaFillsSeeOverlapsOnce(t *testing.T) {
	halves := contours(upright(0, 0, 30, 64), upright(0, 0, 30, 64)) // 30/64 twice is still less than half
	seam := contours(upright(0, 0, 40, 64), upright(24, 0, 64, 64))  // together the whole pixel
	for _, c := range []struct {
		fill    glyph.Fill
		outline *glyph.Outline
		ink     int
		reason  string
	}{
		{glyph.Majority, halves, 0, "doubled ink is no majority"},
		{glyph.Touch, halves, 1, "any ink touches"},
		{glyph.Inside, halves, 0, "a part is not the whole"},
		{glyph.Inside, seam, 1, "two parts that overlap are the whole"},
		{glyph.Majority, seam, 1, "and a majority"},
	} {
		var r Rasterizer
		b, err := r.Bilevel(c.outline, c.fill, glyph.DropoutOff)
		require.NoError(t, err)
		require.Equal(t, c.ink, b.Ink(), "%s: %s", c.fill, c.reason)
	}
}

// Random polygons that cross themselves and each other, against winding numbers
// counted at 32 × 32 points of every pixel. The samples are what is inexact: an
// edge may pass up to 1/32 px beside them on average, less where several do.
func TestCoverageIsThatOfManySamples(t *testing.T) {
	const seed, outlines, samples, tolerance = 7, 300, 32, 16 // of 256
	rng := rand.New(rand.NewPCG(seed, seed))
	var r Rasterizer
	for i := range outlines {
		var polygons [][]fixed.Int26_6
		for range 1 + rng.IntN(3) {
			var p []fixed.Int26_6
			for range 3 + rng.IntN(4) {
				p = append(p, fixed.Int26_6(rng.IntN(320)), fixed.Int26_6(rng.IntN(320)))
			}
			polygons = append(polygons, p)
		}
		o := contours(polygons...)
		b, err := r.Grey(o)
		require.NoError(t, err)
		for y := range 5 {
			for x := range 5 {
				hits := 0
				for k := range samples * samples {
					// In units of 1/64 px × 1/32, at odd places: no point lies there.
					px, py := x*2048+k%samples*64+33, y*2048+k/samples*64+33
					if winding(o, px, py, 32) != 0 {
						hits++
					}
				}
				want := hits * 256 / (samples * samples)
				require.InDelta(t, want, int(b.At(x, y)), tolerance, "outline %d of seed %d, pixel %d %d: %v", i, seed, x, y, polygons)
			}
		}
	}
}

// winding counts the turns of a polygon around a point, both scaled by unit.
func winding(o *glyph.Outline, px, py, unit int) int {
	n, first := 0, 0
	for _, end := range o.Ends {
		for i := first; i <= end; i++ {
			j := i + 1
			if i == end {
				j = first
			}
			ax, ay := int(o.Points[i].X)*unit-px, int(o.Points[i].Y)*unit-py
			bx, by := int(o.Points[j].X)*unit-px, int(o.Points[j].Y)*unit-py
			side := ax*by - bx*ay
			if ay <= 0 && by > 0 && side > 0 {
				n++
			} else if ay > 0 && by <= 0 && side < 0 {
				n--
			}
		}
		first = end + 1
	}
	return n
}

// FreeType's smooth renderer (ftgrays.c) works on the same grid of 1/256 px. Where
// nothing overlaps, the two differ on polygons by rounding alone; on curves by
// FreeType's chords, which may stray by 1/16 px (ONE_PIXEL / 4, ibid.), and two
// of which may share a pixel.
func TestGreyIsFreeTypesWhereNothingOverlaps(t *testing.T) {
	ft := freeType(t)
	f, err := face.Parse(goregular.TTF, 0)
	require.NoError(t, err)
	for _, c := range []struct {
		what      string
		outline   func(*glyph.Outline) *glyph.Outline
		tolerance int // of 255
	}{
		{"polygons", polygonal, 1},
		{"curves", func(o *glyph.Outline) *glyph.Outline { return o }, 32},
	} {
		var r Rasterizer
		drawn, off := 0, map[int]int{}
		for _, ppem := range []fixed.Int26_6{9*64 + 20, 22*64 + 36, 50 * 64} {
			for _, ref := range f.Refs() {
				d, err := f.Design(ref.Index)
				require.NoError(t, err)
				scaled := d.Scaled(glyph.PPEM{X: ppem, Y: ppem})
				if len(scaled.Points) == 0 {
					continue
				}
				o := c.outline(&scaled)
				got, err := r.Grey(o)
				require.NoError(t, err)
				if r.area.joined {
					continue
				}
				want, ok := ft.grey(t, o)
				require.True(t, ok)
				drawn++
				for y := want.Bottom; y < want.Top(); y++ {
					for x := want.Left; x < want.Right(); x++ {
						d := abs(int(got.At(x, y)) - int(want.At(x, y)))
						off[d]++
						require.LessOrEqual(t, d, c.tolerance, "%s: glyph %q at %v ppem, pixel %d %d", c.what, ref.Key, ppem, x, y)
					}
				}
			}
		}
		t.Logf("%s: %d bitmaps; pixels by difference: %v", c.what, drawn, off)
		require.Greater(t, drawn, 1500)
	}
}

// polygonal replaces each curve by three lines between points of it.
func polygonal(o *glyph.Outline) *glyph.Outline {
	var p path
	if p.of(o, 0, vec{}) != nil {
		return nil
	}
	flat := &glyph.Outline{}
	var at vec
	add := func(v vec) {
		flat.Points = append(flat.Points, glyph.Point{X: fixed.Int26_6(v.x), Y: fixed.Int26_6(v.y)})
		at = v
	}
	var q []vec
	for _, v := range p.points {
		q = append(q, v.vec())
	}
	for _, v := range p.verbs {
		switch v {
		case moveTo, lineTo:
			add(q[0])
			q = q[1:]
		case conicTo:
			a := at
			for i := 1; i <= 3; i++ {
				u := 3 - i
				add(vec{(a.x*u*u + 2*q[0].x*u*i + q[1].x*i*i) / 9, (a.y*u*u + 2*q[0].y*u*i + q[1].y*i*i) / 9})
			}
			q = q[2:]
		case closeTo:
			flat.Ends = append(flat.Ends, len(flat.Points)-1)
			q = q[1:]
		}
	}
	return flat
}

// Where contours are found not to be tangled, their signed areas are what their
// union covers, but for the rounding of pieces that the union cuts.
func TestSignedAreasServeWhereNothingIsTangled(t *testing.T) {
	const seed, outlines, tolerance = 3, 4000, 2 // of 256
	rng := rand.New(rand.NewPCG(seed, seed))
	var r Rasterizer
	plain := 0
	for i := range outlines {
		o := randomOutline(rng)
		b, err := r.box(o, 8, wholePixels)
		require.NoError(t, err)
		if b.Width == 0 || b.Height == 0 {
			continue
		}
		require.NoError(t, r.area.outline(o, &b))
		if r.area.joined {
			continue
		}
		plain++
		signed := map[[2]int]int32{}
		r.area.each(func(y int, line []int32) {
			for x, v := range line {
				signed[[2]int{x, y}] = v >> 9
			}
		})
		r.area.joined = true
		r.area.each(func(y int, line []int32) {
			for x, v := range line {
				require.InDelta(t, v>>9, signed[[2]int{x, y}], tolerance, "outline %d of seed %d, pixel %d %d: %v", i, seed, x, y, o)
			}
		})
	}
	t.Logf("%d of %d outlines are plain", plain, outlines)
	require.Greater(t, plain, outlines/20)
}
