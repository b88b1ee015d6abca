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
		{"a letter under its dot is no mark", []face.Hint{bar(500, 600)}, [][][2]int{moved(stop, 0, 500), {{0, 0}, {90, 0}, {150, 430}, {60, 430}}}, 0},
		{"one that leans as far as a quarter of its height", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 0}, {100, 0}, {125, 100}, {25, 100}}}, 2},
		{"and further", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 0}, {100, 0}, {130, 100}, {30, 100}}}, 0},
		{"a stroke from corner to corner, drawn in the bar's rows alone", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 0}, {20, 0}, {100, 100}, {80, 100}}}, 2},
		{"and with a foot", []face.Hint{bar(0, 100)}, [][][2]int{{{0, 0}, {0, -30}, {20, 0}, {100, 100}, {80, 100}}}, 0},
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

// The same, where the ball's stem is declared: by itself it is taken for the StdVW of 80.
func TestADeclaredBallIsAsWideAsItIsHigh(t *testing.T) {
	stop := [][2]int{{50, 0}, {92, 8}, {100, 50}, {92, 92}, {50, 100}, {8, 92}, {0, 50}, {8, 8}}
	comma := [][2]int{{50, 0}, {80, 4}, {40, -190}, {60, -190}, {100, 40}, {92, 92}, {50, 100}, {8, 92}, {0, 50}, {8, 8}}
	square := [][2]int{{0, 0}, {100, 0}, {100, 100}, {0, 100}}
	for _, c := range []struct {
		why   string
		hints []face.Hint
		marks [][][2]int
		wide  int // pixels
	}{
		{"a full stop", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{stop}, 2},
		{"a comma, whose tail adds to it", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{comma}, 2},
		{"both stops of a colon", []face.Hint{bar(0, 100), bar(330, 430), upright(0, 100)}, [][][2]int{stop, moved(stop, 0, 330)}, 2},
		{"straight edges are seen to be as far apart as a stem's", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{square}, 1},
		{"a stop with a letter: its dot is as wide as stems are", []face.Hint{bar(500, 600), upright(0, 100)}, [][][2]int{moved(stop, 0, 500), {{0, 0}, {100, 0}, {100, 430}, {0, 430}}}, 1},
		{"a stroke from corner to corner has half the area", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{{{0, 5}, {5, 0}, {20, 5}, {100, 95}, {95, 100}, {80, 95}}}, 1},
		{"a letter has more than twice the area", []face.Hint{bar(0, 100), upright(0, 100)}, [][][2]int{{{50, 0}, {100, 20}, {90, 100}, {95, 310}, {5, 310}, {10, 100}, {0, 20}}}, 1},
		{"narrower than high by more than an eighth", []face.Hint{bar(0, 100), upright(0, 85)}, [][][2]int{{{42, 0}, {80, 8}, {85, 50}, {80, 92}, {42, 100}, {5, 92}, {0, 50}, {5, 8}}}, 1},
	} {
		d := boxes(c.hints)
		for _, m := range c.marks {
			d.Outline.Points = append(d.Outline.Points, polygon(nil, m).Outline.Points...)
			d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
		}
		f := fitter(t, &face.Private{StdVW: 80}, 6, 203, Options{})
		f.Fit(d)
		for _, s := range f.Choices().Stems {
			if s.Axis == glyph.AxisX {
				require.EqualValues(t, c.wide, (s.GivenHi-s.GivenLo)/pixel, c.why)
				require.False(t, s.Implied, c.why)
			}
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
