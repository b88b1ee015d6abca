package stems

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// 100 units at 6 pt and 203 dpi are 1.69 px: a bar of them is two rows, and beside a
// StdVW of 80 units a stem of them is one column.
func TestABallOfAMarkIsAsWideAsItIsHigh(t *testing.T) {
	stop := [][2]int{{0, 0}, {100, 0}, {108, 100}, {8, 100}} // leans
	comma := [][2]int{{0, 100}, {0, 0}, {70, 0}, {40, -190}, {60, -190}, {100, 40}, {100, 100}}
	tail := upright(80, 100)
	for _, c := range []struct {
		why   string
		hints []face.Hint
		marks [][][2]int
		wide  int // pixels; 0: no ball was found
	}{
		{"a full stop that leans shows no upright edges", []face.Hint{bar(0, 100)}, [][][2]int{stop}, 2},
		{"of a comma only the tail is declared, and not shown", []face.Hint{bar(0, 100), tail}, [][][2]int{comma}, 2},
		{"a colon has two", []face.Hint{bar(0, 100), bar(330, 430)}, [][][2]int{stop, moved(stop, 70, 330)}, 2},
		{"a declared stem speaks for itself", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{comma}, 0},
		{"a letter under its dot is no mark", []face.Hint{bar(500, 600)}, [][][2]int{moved(stop, 0, 500), {{0, 0}, {90, 0}, {150, 430}, {60, 430}}}, 0},
		{"wider than high by more than an eighth", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 0}, {110, 0}, {118, 100}, {8, 100}}}, 0},
		{"its tail swings out further than the ball", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 100}, {0, 0}, {70, 0}, {-40, -190}, {-20, -190}, {100, 40}, {100, 100}}}, 0},
		{"no bar tells its height", []face.Hint{bar(0, 90)}, [][][2]int{stop}, 0},
	} {
		for x := range 60 {
			d := boxes(slices.Clone(c.hints))
			for i := range d.Hints {
				if h := &d.Hints[i]; h.Axis == glyph.AxisX {
					d.Hints[i] = upright(h.Lo.Round()+x, h.Hi.Round()+x)
				}
			}
			for _, m := range c.marks {
				d.Outline.Points = append(d.Outline.Points, polygon(nil, moved(m, x, 0)).Outline.Points...)
				d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
			}
			f := fitter(t, &face.Private{StdVW: 80}, 6, 203, Options{})
			f.Fit(d)
			balls := 0
			for _, s := range f.Choices().Stems {
				if s.Implied && s.Axis == glyph.AxisX {
					balls++
					require.EqualValues(t, c.wide, (s.GivenHi-s.GivenLo)/pixel, "%s, at %d units", c.why, x)
				}
			}
			require.Equal(t, c.wide > 0, balls == len(c.marks), "%s, at %d units", c.why, x)
			require.Equal(t, c.wide == 0, balls == 0, "%s, at %d units", c.why, x)
		}
	}
}

// moved is a contour at another place.
func moved(points [][2]int, x, y int) (out [][2]int) {
	for _, p := range points {
		out = append(out, [2]int{p[0] + x, p[1] + y})
	}
	return out
}
