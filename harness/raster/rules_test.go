package raster

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

type polygon = []fixed.Int26_6

// shapes are outlines in 64ths of a pixel with what the rules make of them, by
// mode. Pixel centres lie at 32, 96, 160 … A block of a whole pixel row far from
// the shape keeps the box open, inside which a dropout may be mended.
// The rules are those of OpenType, "SCANTYPE[]"; what FreeType adds is named.
var shapes = []struct {
	name, reason string
	outline      *glyph.Outline
	want         map[string]string // modes, then rows from the top
}{
	{
		"square", "rule 1: two by two centres lie inside",
		contours(upright(20, 20, 100, 100)),
		map[string]string{"-1 0 1 2 4 5": "## ##"},
	},
	{
		"square on centres", "rule 2: the contour runs through all four centres",
		contours(upright(32, 32, 96, 96)),
		map[string]string{"-1 0 1 2 4 5": "## ##"},
	},
	{
		"level edge on centres", "rule 2: no centre inside, the lower edge runs through three",
		contours(upright(0, 32, 192, 90)),
		map[string]string{"-1 0 1 2 4 5": "###"},
	},
	{
		"tip on a centre", "rule 2: the tip alone touches the centre of the top pixel",
		contours(polygon{96, 160, 190, 2, 2, 2}),
		map[string]string{"-1 0 1 2 4 5": ".#. .#. ###"},
	},
	{
		"upright sliver, nearer left", "rule 3: the left pixel; rule 5: the midpoint 50 lies in it, too; rules 4 and 6: its ends are stubs",
		contours(upright(40, 0, 60, 192), upright(0, 256, 128, 320)),
		map[string]string{"-1 2 3 6 7": "##", "0 4": "## .. #. #. #.", "1 5": "## .. .. #."},
	},
	{
		"upright sliver, nearer right", "rule 3: the left pixel all the same; rule 5: the midpoint 80 lies in the right one",
		contours(upright(70, 0, 90, 192), upright(0, 256, 128, 320)),
		map[string]string{"-1 2 3 6 7": "##", "0": "## .. #. #. #.", "1": "## .. .. #.", "4": "## .. .# .# .#", "5": "## .. .. .#"},
	},
	{
		"upright sliver half-way", "rule 5, a tie: FreeType takes the left pixel (ftraster.c, SMART)",
		contours(upright(54, 0, 74, 192), upright(0, 256, 128, 320)),
		map[string]string{"4": "## .. #. #. #.", "5": "## .. .. #."},
	},
	{
		"upright bar of half a pixel", "FreeType: an end that is half a pixel wide and passes the centre line by as much is no stub",
		contours(upright(46, 0, 78, 192), upright(0, 256, 128, 320)),
		map[string]string{"-1 2 3 6 7": "##", "0 1 4 5": "## .. #. #. #."},
	},
	{
		"level sliver, nearer the bottom", "rule 3: the lower pixel; rule 5: the midpoint 50 lies in it, too; rules 4 and 6: its ends are stubs",
		contours(upright(0, 40, 192, 60), upright(256, 0, 320, 128)),
		map[string]string{"-1 2 3 6 7": "# #", "0 4": "....# ###.#", "1 5": "...# #..#"},
	},
	{
		"level sliver, nearer the top", "rule 3: the lower pixel all the same; rule 5: the midpoint 80 lies in the upper one",
		contours(upright(0, 70, 192, 90), upright(256, 0, 320, 128)),
		map[string]string{"-1 2 3 6 7": "# #", "0": "....# ###.#", "1": "...# #..#", "4": "###.# ....#", "5": "#..# ...#"},
	},
	{
		"level sliver half-way", "rule 5, a tie: the lower pixel",
		contours(upright(0, 54, 192, 74), upright(256, 0, 320, 128)),
		map[string]string{"4": "....# ###.#", "5": "...# #..#"},
	},
	{
		"sliver alone", "FreeType: the left pixel is outside the box of the outline, so the one inside is set",
		contours(upright(70, 0, 90, 192)),
		map[string]string{"-1 2 3 6 7": "", "0 4": "# # #", "1 5": "#"},
	},
	{
		"sliver beside ink", "FreeType: nothing is set where the pixel on the other side is on",
		contours(upright(40, 0, 60, 64), upright(80, 0, 160, 64)),
		map[string]string{"-1 0 1 2 4 5": "##"},
	},
	{
		"slim tip", "a stub, 16/64 px wide where it passes the last centre line: rules 3 and 5 draw it, rules 4 and 6 do not",
		contours(polygon{0, 0, 64, 256, 128, 0}),
		map[string]string{"0 4": "#. #. ## ##", "1 5": "#. ## ##", "-1 2 3 6 7": "## ##"},
	},
	{
		"broad tip", "FreeType: a stub that passes the centre line by half a pixel and is half a pixel wide there is drawn",
		contours(polygon{0, 0, 0, 80, 64, 208, 128, 80, 128, 0}),
		map[string]string{"0 1 4 5": "#. ## ##", "-1 2 3 6 7": "## ##"},
	},
	{
		"broad but short tip", "half a pixel wide, but it passes the centre line by less than half a pixel",
		contours(polygon{0, 0, 0, 116, 64, 180, 128, 116, 128, 0}),
		map[string]string{"0 4": "#. ## ##", "-1 1 2 3 5 6 7": "## ##"},
	},
	{
		"slim tip downward", "a stub at the lower end",
		contours(polygon{0, 256, 128, 256, 64, 0}),
		map[string]string{"0 4": "## ## #. #.", "1 5": "## ## #.", "-1 2 3 6 7": "## ##"},
	},
	{
		"waist", "no stub: both contours go on above and below, and every rule mends the gap",
		contours(polygon{0, 0, 50, 160, 0, 320, 128, 320, 78, 160, 128, 0}),
		map[string]string{"0 1 4 5": "## ## #. ## ##", "-1 2 3 6 7": "## ## .. ## ##"},
	},
	{
		"wrong winding", "the direction of a contour alone changes nothing",
		contours(reversed(20, 20, 100, 100)),
		map[string]string{"-1 0 1 2 4 5": "## ##"},
	},
	{
		"overlap, same way", "what is covered twice is covered",
		contours(upright(0, 0, 128, 64), upright(64, 0, 192, 64)),
		map[string]string{"-1 0 1 2 4 5": "###"},
	},
	{
		"hole", "a contour the other way cuts out",
		contours(upright(0, 0, 192, 192), reversed(64, 64, 128, 128)),
		map[string]string{"-1 0 1 2 4 5": "### #.# ###"},
	},
	{
		"bow tie", "a contour that crosses itself has two insides",
		contours(polygon{0, 0, 384, 192, 384, 0, 0, 192}),
		map[string]string{"-1 0 1 2 4 5": "#....# ###### #....#"},
	},
	{
		"contour without area", "rule 2: it has ink where it runs through centres",
		contours(polygon{0, 32, 192, 32}, upright(0, 128, 64, 192)),
		map[string]string{"-1 0 1 2 4 5": "#.. ... ###"},
	},
}

func parseModes(t *testing.T, s string) (all []glyph.Dropout) {
	for _, f := range strings.Fields(s) {
		var m glyph.Dropout
		_, err := fmt.Sscan(f, &m)
		require.NoError(t, err)
		all = append(all, m)
	}
	return all
}

func TestShapesAreFilledByTheRules(t *testing.T) {
	for _, s := range shapes {
		for names, want := range s.want {
			for _, mode := range parseModes(t, names) {
				for _, high := range []bool{false, true} {
					r := Rasterizer{HighPrecision: high}
					b, err := r.Bilevel(s.outline, glyph.Center, mode)
					require.NoError(t, err)
					require.Equal(t, want, strings.Join(strings.Fields(art(&b)), " "), "%s, mode %d, high precision %t: %s", s.name, mode, high, s.reason)
				}
			}
		}
	}
}

// The same shapes, turned by each of the ways in which a contour may be written
// down, in every mode: our reading of the rules is FreeType's.
func TestShapesAreWhatFreeTypeDraws(t *testing.T) {
	ft := freeType(t)
	var c comparison
	for _, s := range shapes {
		for _, mode := range modes {
			for turn := range 4 {
				o := turned(s.outline, turn)
				for _, high := range []bool{false, true} {
					c.compare(t, ft, o, mode, high, fmt.Sprintf("%s, turn %d", s.name, turn))
				}
			}
		}
	}
	c.report(t, "shapes")
}

// turned swaps the axes (1), reverses the contours (2), or both (3).
func turned(o *glyph.Outline, turn int) *glyph.Outline {
	q := &glyph.Outline{Points: slices.Clone(o.Points), Ends: o.Ends}
	if turn&1 != 0 {
		for i, p := range q.Points {
			q.Points[i].X, q.Points[i].Y = p.Y, p.X
		}
	}
	if turn&2 != 0 {
		first := 0
		for _, end := range q.Ends {
			slices.Reverse(q.Points[first : end+1])
			first = end + 1
		}
	}
	return q
}

// A composite's parts keep the mode that each asked for.
func TestEachContourHasItsMode(t *testing.T) {
	o := contours(upright(40, 0, 60, 64), upright(168, 0, 188, 64), upright(0, 128, 256, 192))
	var r Rasterizer
	for _, c := range []struct {
		modes  []glyph.Dropout
		want   string
		reason string
	}{
		{nil, "#### .... ....", "the glyph's own mode is off"},
		{[]glyph.Dropout{0, glyph.DropoutKeep, glyph.DropoutKeep}, "#### .... #.#.", "the first contour's holds for all that follow"},
		{[]glyph.Dropout{0, 2, glyph.DropoutKeep}, "#### .... #...", "until another asks for its own"},
		{[]glyph.Dropout{2, 0, glyph.DropoutKeep}, "#### .... ..#.", "the other way round"},
	} {
		o.Modes = c.modes
		b, err := r.Bilevel(o, glyph.Center, glyph.DropoutOff)
		require.NoError(t, err)
		full := glyph.NewBitmap(0, 0, 4, 3, 1)
		for y := range 3 {
			for x := range 4 {
				full.Set(x, y, b.At(x, y))
			}
		}
		require.Equal(t, c.want, strings.Join(strings.Fields(art(&full)), " "), c.reason)
	}
}

func TestMalformedContoursAreRefused(t *testing.T) {
	on := []glyph.Kind{glyph.OnCurve, glyph.OnCurve, glyph.OnCurve}
	for _, c := range []struct {
		kinds  []glyph.Kind
		ends   []int
		reason string
	}{
		{[]glyph.Kind{glyph.Cubic, glyph.Cubic, glyph.OnCurve}, []int{2}, "a contour cannot begin with a cubic control"},
		{[]glyph.Kind{glyph.OnCurve, glyph.Cubic, glyph.OnCurve}, []int{2}, "cubic controls come in pairs"},
		{[]glyph.Kind{glyph.OnCurve, glyph.OnCurve, glyph.Cubic}, []int{2}, "nor is the second one that the contour begins with"},
		{[]glyph.Kind{glyph.OnCurve, glyph.Quad, glyph.Cubic, glyph.Cubic}, []int{3}, "a quadratic control is followed by a point or another one"},
		{on, []int{3}, "a contour ends at a point"},
		{on, []int{2, 0}, "contours follow each other"},
	} {
		o := &glyph.Outline{Ends: c.ends}
		for i, k := range c.kinds {
			o.Points = append(o.Points, glyph.Point{X: fixed.Int26_6(i * 64), Y: fixed.Int26_6(i * i * 64), Kind: k})
		}
		var r Rasterizer
		_, err := r.Bilevel(o, glyph.Center, 0)
		require.ErrorIs(t, err, ErrMalformed, c.reason)
		_, err = r.Grey(o)
		require.ErrorIs(t, err, ErrMalformed, c.reason)
	}
}
