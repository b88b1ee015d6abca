package glyph

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"
)

// Values of the size rule ppem = pt × dpi / 72 ("TrueType fundamentals").
func TestPixelsPerEmFollowsTheSizeRule(t *testing.T) {
	for _, c := range []struct {
		pt, dpi string
		want    float64
	}{
		{"6", "203", 16.917}, {"8", "203", 22.556}, {"12", "203", 33.833},
		{"8", "300", 33.333}, {"10", "300", 41.667}, {"8", "203.2", 22.578}, {"7.5", "600", 62.5},
	} {
		size, err := ParsePoints(c.pt)
		require.NoError(t, err)
		dpi, err := ParseDPI(c.dpi)
		require.NoError(t, err)
		got := PixelsPerEm(size, Resolution{dpi, dpi})
		require.InDelta(t, c.want, float64(got.X)/64, 1.0/128+0.0005, "%s pt at %s dpi", c.pt, c.dpi)
	}
}

func TestEightDotsPerMillimetreIs203Point2Exactly(t *testing.T) {
	d, err := PerMM(8000)
	require.NoError(t, err)
	require.Equal(t, "203.2", d.String())
}

func TestAResolutionMayHaveASpaceAfterItsComma(t *testing.T) {
	r, err := ParseResolution("203, 406.4")
	require.NoError(t, err)
	require.Equal(t, Resolution{X: 203_000, Y: 406_400}, r)
}

func TestResolutionsRefuseWhatThousandthsCannotHold(t *testing.T) {
	for _, bad := range []string{"", "0", "-1", "1e3", "203.2005", "abc", "1/3", "300,", "0b1", "+8",
		"1e99999999", strings.Repeat("1", 1<<20)} {
		_, err := ParseResolution(bad)
		require.Error(t, err, "%.20s", bad)
	}
}

func TestKeysFallBackWhereANameIsNotUnique(t *testing.T) {
	refs := []Ref{
		{Name: "A", Code: 'A', Index: 1}, {Name: "dup", Code: 'x', Index: 2}, {Name: "dup", Code: NoCode, Index: 3},
		{Code: 'é', Index: 4}, {Name: "#9", Code: NoCode, Index: 5}, {Name: "U+0041", Code: 'B', Index: 6},
	}
	SetKeys(refs)
	var keys []Key
	for _, r := range refs {
		keys = append(keys, r.Key)
	}
	require.Equal(t, []Key{"A", "U+0078", "#3", "U+00E9", "#5", "U+0042"}, keys)
}

func TestBitmapIsTheSameInkInEveryRectangle(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 500 {
		depth := []int{1, 2, 4, 8}[rnd.Intn(4)]
		wide := NewBitmap(-rnd.Intn(90), -rnd.Intn(9), 1+rnd.Intn(200), 1+rnd.Intn(20), depth)
		for range rnd.Intn(8) {
			wide.Set(wide.Left+rnd.Intn(wide.Width), wide.Bottom+rnd.Intn(wide.Height), wide.Max())
		}
		tight := wide.Tight()
		require.True(t, tight.Equal(&wide))
		require.Equal(t, wide.Ink(), tight.Ink())
		for y := wide.Bottom; y < wide.Top(); y++ {
			for x := wide.Left; x < wide.Right(); x++ {
				require.Equal(t, wide.At(x, y), tight.At(x, y))
			}
		}
		a, b := Cell{Bitmap: wide, Advance: 3}, Cell{Bitmap: tight, Advance: 3}
		require.Equal(t, a.Digest(), b.Digest())
		b.Advance = 4
		require.NotEqual(t, a.Digest(), b.Digest(), "an advance is approved too")
	}
}

// The digests were worked out apart from this program, by what Digest's comment says.
func TestADigestIsOverWhatItSays(t *testing.T) {
	for _, c := range []struct {
		reason              string
		depth, left, bottom int
		width, height, adv  int
		on                  map[[2]int]uint8 // from the left and the top
		digest              string
	}{
		{"rows of two bytes", 1, -1, 2, 9, 2, 300, map[[2]int]uint8{
			{0, 0}: 1, {8, 0}: 1, {0, 1}: 1, {1, 1}: 1, {2, 1}: 1, {3, 1}: 1, {4, 1}: 1, {5, 1}: 1, {6, 1}: 1, {7, 1}: 1, {8, 1}: 1,
		}, "2a36462211e155d0ba3e2530ebf44d043f25417f5aa3f7438da7101853ef52dc"},
		{"a row of more than a word", 1, 0, -3, 70, 1, -5, map[[2]int]uint8{{0, 0}: 1, {69, 0}: 1},
			"fe0aa2a5ddca5c02015a0ee4488438e0261c2edea2dcdb2c01f645c9dcde7b6a"},
		{"greys", 8, 0, 0, 2, 2, 3, map[[2]int]uint8{{0, 0}: 255, {1, 0}: 1, {1, 1}: 128},
			"632dab13231e4cf39d85c7a73fcbd30432b01e6cbfc6c6b00eda72cc7aaef987"},
	} {
		b := NewBitmap(c.left, c.bottom, c.width, c.height, c.depth)
		for at, v := range c.on {
			b.Set(c.left+at[0], b.Top()-1-at[1], v)
		}
		cell := Cell{Advance: c.adv, Bitmap: b}
		require.Equal(t, c.digest, fmt.Sprintf("%x", cell.Digest()), c.reason)
	}
}

func TestScaleRoundsHalfAwayFromZero(t *testing.T) {
	require.Equal(t, fixed.Int26_6(1), Scale(64, 64, 128), "1 unit of 128 at 1 ppem is half a 64th")
	require.Equal(t, fixed.Int26_6(-1), Scale(-64, 64, 128))
}
