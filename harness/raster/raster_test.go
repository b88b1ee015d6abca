package raster

import (
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// rect is a rectangle in 64ths of a pixel, clockwise.
func rect(x0, y0, x1, y1 fixed.Int26_6) *glyph.Outline {
	return &glyph.Outline{Points: []glyph.Point{{X: x0, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}}, Ends: []int{3}}
}

func TestFillRulesOnARectangleWithEdgesOnCentres(t *testing.T) {
	for _, c := range []struct {
		fill        glyph.Fill
		left, width int
		reason      string
	}{
		{glyph.Center, 0, 4, "TrueType rules 1 and 2: a centre on the contour is on"},
		{glyph.Inside, 1, 2, "only pixels 1 and 2 lie wholly inside 0.5 to 3.5"},
		{glyph.Touch, 0, 4, "PLRM 7.5.1: any pixel that the shape touches"},
		{glyph.Majority, 0, 4, "pixels 0 and 3 are covered by exactly half"},
	} {
		var r Rasterizer
		b, err := r.Bilevel(rect(32, 0, 3*64+32, 128), c.fill, glyph.DropoutOff)
		require.NoError(t, err)
		require.Equal(t, c.left, b.Left, c.reason)
		require.Equal(t, c.width, b.Width, c.reason)
		require.Equal(t, 2, b.Height, c.reason)
	}
}

// The rules are those of OpenType, "SCANTYPE[]".
func TestDropoutModesOnAThinBar(t *testing.T) {
	for _, c := range []struct {
		mode   glyph.Dropout
		rows   int
		reason string
	}{
		{glyph.DropoutOff, 0, "rules 1 and 2 alone lose a bar between two centres"},
		{0, 1, "rule 3 keeps it"}, {1, 1, "rule 4: the bar's ends are no stubs across it"},
		{2, 0, "SCANTYPE 2 is off"}, {4, 1, "rule 5"}, {5, 1, "rule 6"}, {7, 0, "SCANTYPE 7 is as 2"},
	} {
		var r Rasterizer
		b, err := r.Bilevel(rect(0, 40, 10*64, 90), glyph.Center, c.mode)
		require.NoError(t, err)
		require.Equal(t, c.rows, b.Height, "mode %d: %s", c.mode, c.reason)
	}
}

func TestGreyIsTheCoveredArea(t *testing.T) {
	var r Rasterizer
	b, err := r.Grey(rect(32, 0, 64+16, 64))
	require.NoError(t, err)
	require.Equal(t, uint8(128), b.At(0, 0), "half a pixel")
	require.Equal(t, uint8(64), b.At(1, 0), "a quarter")
}

func TestAHugeOutlineIsRefused(t *testing.T) {
	var r Rasterizer
	_, err := r.Bilevel(rect(0, 0, 1<<23, 1<<23), glyph.Center, 0)
	require.ErrorIs(t, err, ErrTooLarge)
}

// A damaged or malicious font may hold such an outline: it must not stall the run.
func TestAThicketOfEdgesEndsInTime(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	thicket := func(points int) *glyph.Outline {
		o := &glyph.Outline{Ends: []int{points - 1}}
		for range points {
			o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(rng.IntN(6400)), Y: fixed.Int26_6(rng.IntN(640))})
		}
		return o
	}
	var r Rasterizer
	start := time.Now()
	b, err := r.Bilevel(thicket(10_000), glyph.Center, 0)
	require.NoError(t, err)
	require.Greater(t, b.Ink(), 900)
	b, err = r.Grey(thicket(1_000))
	require.NoError(t, err)
	require.Greater(t, b.Ink(), 900)
	_, err = r.Grey(thicket(30_000))
	require.ErrorIs(t, err, ErrTooLarge)
	require.Less(t, time.Since(start), time.Minute)
	t.Log(time.Since(start))
}

func FuzzBilevel(f *testing.F) {
	f.Add([]byte{0, 0, 1, 10, 200, 1, 90, 90, 0, 200, 10, 1}, int8(1))
	f.Fuzz(func(t *testing.T, data []byte, mode int8) {
		o := &glyph.Outline{}
		for ; len(data) >= 3; data = data[3:] {
			o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(int8(data[0])) * 9, Y: fixed.Int26_6(int8(data[1])) * 9, Kind: glyph.Kind(data[2] % 3)})
			if data[2]&64 != 0 {
				o.Ends, o.Recurs = append(o.Ends, len(o.Points)-1), append(o.Recurs, int32(data[2]>>2&7))
			}
		}
		for _, high := range []bool{false, true} {
			r := Rasterizer{HighPrecision: high}
			_, _ = r.Bilevel(o, glyph.Center, glyph.Dropout(mode%8)) // it remembers contours
			b, err := r.Bilevel(o, glyph.Center, glyph.Dropout(mode%8))
			if errors.Is(err, ErrMalformed) {
				return
			}
			require.NoError(t, err)
			ordered := (&Rasterizer{HighPrecision: high}).drawnInOrder(t, o, glyph.Dropout(mode%8))
			require.True(t, b.Equal(&ordered), "%s\nin order\n%s", art(&b), art(&ordered))
			_, err = r.Grey(o)
			require.NoError(t, err)
			least := 0
			for _, fill := range []glyph.Fill{glyph.Inside, glyph.Majority, glyph.Touch} {
				b, err := r.Bilevel(o, fill, glyph.DropoutOff)
				require.NoError(t, err)
				require.GreaterOrEqual(t, b.Ink(), least, "what is wholly inside is so by majority, and that is touched")
				least = b.Ink()
			}
		}
	})
}
