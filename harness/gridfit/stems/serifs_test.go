package stems

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// footed draws a stem from 100 to 184 units with a slab serif from 40 to 244 at its
// foot, 0 to 30, and slopes from there up to 60; the left half first.
func footed(hints []face.Hint, left, right []int) *face.Drawing {
	d := &face.Drawing{Hints: hints, Spans: []face.Span{{Hints: left}, {Point: 5, Hints: right}}}
	for _, p := range [][2]int{{100, 662}, {100, 60}, {60, 40}, {40, 30}, {40, 0}, {244, 0}, {244, 30}, {224, 40}, {184, 60}, {184, 662}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{len(d.Outline.Points) - 1}
	return d
}

func TestTheTwoSerifsOfAStemAreMirrorImages(t *testing.T) {
	for _, c := range []struct {
		why         string
		hints       []face.Hint
		left, right []int
	}{
		{"a dot over the stem begins where the right serif ends", []face.Hint{upright(100, 184), bar(0, 30), upright(244, 330)}, []int{0, 1, 2}, []int{0, 1, 2}},
		{"another bar is in force at the right", []face.Hint{upright(100, 184), bar(0, 30), bar(0, 60)}, []int{0, 1}, []int{0, 2}},
	} {
		t.Run(c.why, func(t *testing.T) {
			for pt := 6; pt <= 24; pt++ {
				d := footed(c.hints, c.left, c.right)
				if len(c.hints) > 2 && c.hints[2].Axis == glyph.AxisX {
					for _, p := range [][2]int{{244, 700}, {330, 700}, {330, 780}, {244, 780}} {
						d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
					}
					d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
				}
				p := fitter(t, dictionary(), pt, 203, Options{}).Fit(d).Points
				for l, r := 0, 9; l < r; l, r = l+1, r-1 {
					require.Equal(t, p[0].X+p[9].X, p[l].X+p[r].X, "%d pt, points %d and %d", pt, l, r)
					require.Equal(t, p[l].Y, p[r].Y, "%d pt, points %d and %d", pt, l, r)
				}
			}
		})
	}
}

// The inner serifs of an H nearly meet. The counter takes up what fitting the stems adds
// to it or takes from it, and the serifs none of that.
func TestSerifsThatReachFarIntoACounterAreAsLongAsTheOuterOnes(t *testing.T) {
	d := polygon([]face.Hint{upright(100, 184), upright(384, 468), bar(0, 30), bar(300, 360)}, [][2]int{
		{100, 662}, {100, 30}, {10, 30}, {10, 0}, {274, 0}, {274, 30}, {184, 30}, {184, 300},
		{384, 300}, {384, 30}, {294, 30}, {294, 0}, {558, 0}, {558, 30}, {468, 30}, {468, 662},
		{384, 662}, {384, 360}, {184, 360}, {184, 662},
	})
	for pt := 6; pt <= 24; pt++ {
		f := fitter(t, dictionary(), pt, 203, Options{})
		p := f.Fit(d).Points
		want := int(f.scale(glyph.AxisX).of(fu(90)))
		for _, c := range []struct {
			where      string
			right, end int
		}{{"left of the left stem", 1, 2}, {"right of it", 5, 6}, {"left of the right one", 9, 10}, {"right of it", 13, 14}} {
			require.InDelta(t, want, int(p[c.right].X-p[c.end].X), 1, "%d pt, %s", pt, c.where)
		}
	}
}
