package diff_test

import (
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
		r := at(300).Compare(diff.Pair{Golden: n, Candidate: c.candidate, Design: designN(), PPEM: glyph.PPEM{X: 20 * 64, Y: 20 * 64}})
		require.Equal(t, c.kind, r.Findings[0].Kind, "%s: %+v", c.reason, r.Findings)
	}
}
