package diff_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// contour adds a closed contour of quadratic curves to a design: x, y and
// whether the point lies on the curve.
func contour(d *glyph.Design, points ...[3]int) *glyph.Design {
	for _, p := range points {
		kind := glyph.OnCurve
		if p[2] == 0 {
			kind = glyph.Quad
		}
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1]), Kind: kind})
	}
	d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	return d
}

const letterN = `
	###.######..
	#####...###.
	###......###
	##.......###
	##.......###
	##.......###
	##.......###
	##.......###
	##.......###
	##.......###`

// 20 units are a pixel: stems of rounded corners, an arch that is round.
func designN() *glyph.Design {
	return contour(&glyph.Design{UPEM: 400, Advance: 240},
		[3]int{0, 0, 1}, [3]int{0, 196, 1}, [3]int{0, 200, 0}, [3]int{4, 200, 1}, [3]int{46, 200, 1}, [3]int{50, 200, 0}, [3]int{50, 196, 1},
		[3]int{50, 180, 1}, [3]int{80, 203, 0}, [3]int{140, 203, 1}, [3]int{240, 203, 0}, [3]int{240, 120, 1}, [3]int{240, 0, 1},
		[3]int{190, 0, 1}, [3]int{190, 120, 1}, [3]int{190, 170, 0}, [3]int{140, 170, 1}, [3]int{60, 170, 0}, [3]int{40, 120, 1}, [3]int{40, 0, 1})
}

func TestWhatReachesFurtherIsARoundOrAFlatEndByItsOwnOutline(t *testing.T) {
	n := drawn(letterN)
	ascending := func(c *glyph.Cell, x0, x1 int) *glyph.Cell { return box(c, 1, x0, 10, x1, 11) }
	for _, c := range []struct {
		candidate *glyph.Cell
		kind      diff.Kind
		reason    string
	}{
		{ascending(n, 5, 9), diff.Overshoot, "the arch alone, by a hair higher than the flat head beside it"},
		{ascending(n, 0, 3), diff.Height, "the head of the stem, whose corners are rounded"},
		{ascending(ascending(n, 0, 3), 5, 9), diff.Height, "both: the row of the letter has moved"},
	} {
		over := designN() // its head narrow, and over the row, as those of some serif faces are
		over.Outline.Points[4].X, over.Outline.Points[6].Y = fixed.I(20), fixed.I(188)
		over.Outline.Points[5] = glyph.Point{X: fixed.I(44), Y: fixed.I(194), Kind: glyph.OnCurve}
		over.Zones = []glyph.Zone{{Name: "x-height", Flat: 180, Over: 203, Top: true}}
		for _, d := range []*glyph.Design{designN(), over} {
			r := at(300).Compare(diff.Pair{Golden: n, Candidate: c.candidate, Design: d, PPEM: glyph.PPEM{X: 20 * 64, Y: 20 * 64}})
			require.Equal(t, c.kind, r.Findings[0].Kind, "%s: %+v", c.reason, r.Findings)
		}
	}
}

// c with a flat tip at the end of its upper stroke, of so many units in width and height; 20 units are a pixel.
func designC(x0, x1, tip int) *glyph.Design {
	d := contour(&glyph.Design{UPEM: 400, Advance: 240, Zones: []glyph.Zone{{Name: "x-height", Flat: 200, Over: 209, Top: true}}},
		[3]int{100, 209, 1}, [3]int{160, 209, 0}, [3]int{180, 180, 1}, [3]int{180, 140, 1}, [3]int{160, 140, 1}, [3]int{150, 189, 0}, [3]int{100, 189, 1},
		[3]int{20, 189, 0}, [3]int{20, 100, 1}, [3]int{20, 11, 0}, [3]int{100, 11, 1}, [3]int{160, 11, 0}, [3]int{180, 60, 1}, [3]int{200, 60, 1},
		[3]int{190, -9, 0}, [3]int{100, -9, 1}, [3]int{0, -9, 0}, [3]int{0, 100, 1}, [3]int{0, 209, 0})
	return contour(d, [3]int{x0, 140, 1}, [3]int{x0, tip, 1}, [3]int{x1, tip, 1}, [3]int{x1, 140, 1})
}

const letterC = `
	...####..##.
	.########.##
	###.....####
	##........##
	##..........
	##..........
	##..........
	##........##
	###......##.
	.########...
	...####.....`

func TestTheTipOfASerifThatEndsOverTheRowEndsNoLetterFlat(t *testing.T) {
	c := drawn(letterC)
	lower := box(box(c, 0, 3, 10, 7, 11), 0, 9, 10, 12, 11)
	for _, k := range []struct {
		reason      string
		x0, x1, tip int
		kind        diff.Kind
	}{
		{"half-way between the row and the round", 180, 200, 204, diff.Overshoot},
		{"on the row", 180, 200, 200, diff.Height},
		{"hardly over the row", 180, 200, 202, diff.Height},
		{"half-way, and as wide as a stem", 180, 225, 204, diff.Height},
	} {
		r := at(300).Compare(diff.Pair{Golden: c, Candidate: lower, Design: designC(k.x0, k.x1, k.tip), PPEM: glyph.PPEM{X: 20 * 64, Y: 20 * 64}})
		i := slices.IndexFunc(r.Findings, func(f diff.Finding) bool { return f.Kind == diff.Height || f.Kind == diff.Overshoot })
		require.GreaterOrEqual(t, i, 0, k.reason)
		require.Equal(t, k.kind, r.Findings[i].Kind, "%s: %+v", k.reason, r.Findings)
	}
}
