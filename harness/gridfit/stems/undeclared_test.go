package stems

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// A U whose right stem no hint declares, as in accented letters that were put
// together late: 84 units at 8 pt and 203 dpi are 1.895 px, one or two by chance.
func TestAnUprightStemThatNoHintDeclaresIsFittedAsOne(t *testing.T) {
	for _, c := range []struct {
		why           string
		width, height int
		lean          int     // of its right edge, units
		std, snap     float64 // StdVW, and one of StemSnapV
		hints         []face.Hint
		fitted        bool
	}{
		{"as wide as StdVW", 84, 662, 0, 84, 0, nil, true},
		{"within a tenth of it", 90, 662, 0, 84, 0, nil, true},
		{"as wide as one of StemSnapV", 84, 662, 0, 120, 84, nil, true},
		{"wider than one by more than a tenth", 84, 662, 0, 120, 76, nil, false},
		{"an edge a unit off upright was meant to be", 84, 662, 1, 84, 0, nil, true},
		{"one that leans was not", 84, 662, 8, 84, 0, nil, false},
		{"no standard width: it may be anything", 100, 662, 0, 84, 0, nil, false},
		{"a face that names none", 84, 662, 0, 0, 0, nil, false},
		{"too short to be a stem: a serif's end, a dot", 84, 150, 0, 84, 0, nil, false},
		{"a declared stem inside speaks for it", 84, 662, 0, 84, 0, []face.Hint{upright(410, 450)}, false},
	} {
		for x := range 60 {
			d := boxes(append([]face.Hint{upright(60, 144)}, c.hints...), [4]int{60, 0, 144, 662}, [4]int{390 + x, 0, 390 + x + c.width, c.height})
			d.Outline.Points[6].X -= fu(c.lean)
			for _, h := range c.hints { // drawn, so that it is one
				d.Outline.Points = append(d.Outline.Points,
					glyph.Point{X: h.Lo, Y: fu(700)}, glyph.Point{X: h.Hi, Y: fu(700)}, glyph.Point{X: h.Hi, Y: fu(900)}, glyph.Point{X: h.Lo, Y: fu(900)})
				d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
			}
			snaps := []float64{c.snap}
			if c.snap == 0 {
				snaps = nil
			}
			f := fitter(t, &face.Private{StdVW: c.std, StemSnapV: snaps}, 8, 203, Options{})
			p := f.Fit(d).Points
			implied := 0
			for _, s := range f.Choices().Stems {
				if s.Implied && s.Axis == glyph.AxisX {
					implied++
				}
			}
			require.Equal(t, map[bool]int{true: 1}[c.fitted], implied, "%s, at %d units", c.why, 390+x)
			if c.fitted {
				require.Equal(t, 2*pixel, p[5].X-p[4].X, "%s, at %d units", c.why, 390+x)
				require.Zero(t, p[4].X%pixel, "%s, at %d units", c.why, 390+x)
			}
		}
	}
}
