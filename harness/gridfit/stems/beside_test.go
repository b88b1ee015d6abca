package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// contourOf is a drawing of one contour.
func contourOf(hints []face.Hint, points ...[2]int) *face.Drawing {
	d := &face.Drawing{Hints: hints, Spans: []face.Span{{}}}
	for i := range hints {
		d.Spans[0].Hints = append(d.Spans[0].Hints, i)
	}
	for _, p := range points {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{len(points) - 1}
	return d
}

// barAt is where the bar that begins at a height was placed.
func barAt(t *testing.T, f *Fitter, lo int) fixed.Int26_6 {
	t.Helper()
	for _, s := range f.Choices().Stems {
		if s.Axis == glyph.AxisY && s.Ghost == face.NoGhost && s.Lo == fu(lo) {
			return s.GivenLo
		}
	}
	require.Fail(t, "no such bar", lo)
	return 0
}

// Two rings of a per cent sign, as two bars each: the one at the left stands 32 units, 0.6
// px, above the other. Over each other they would keep a row of white between them.
func TestRingsBesideEachOtherNeedNoWhiteBetweenThem(t *testing.T) {
	hints := []face.Hint{bar(0, 28), bar(290, 318), bar(350, 378), bar(644, 672)}
	for _, c := range []struct {
		why   string
		right int // of the lower ring
		want  fixed.Int26_6
	}{
		{"beside it, asked 6.91 px", 400, 7 * pixel},
		{"over it, on 6 to 7 px", 0, 8 * pixel},
	} {
		d := contourOf(hints)
		d.Outline.Ends = nil
		for _, r := range [][3]int{{c.right, 0, 318}, {0, 350, 672}} {
			for _, p := range [][2]int{{0, r[1]}, {300, r[1]}, {300, r[2]}, {0, r[2]}, {0, r[1] + 28}, {20, r[1] + 28}, {20, r[2] - 28}, {280, r[2] - 28}, {280, r[1] + 28}, {0, r[1] + 28}} {
				d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(r[0] + p[0]), Y: fu(p[1])})
			}
			d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
		}
		f := fitter(t, &face.Private{BlueValues: []float64{-10, 0}}, 7, 203, Options{})
		f.Fit(d)
		require.Equal(t, 6*pixel, barAt(t, f, 290), c.why)
		require.Equal(t, c.want, barAt(t, f, 350), c.why)
	}
}

// A bar asked for at 1.4 px over one up to 0.9: the one beside them, which is nearer to it
// in height, has no say in the white between the two.
func TestABarKeepsItsWhiteAboveOneThatIsNotTheNearest(t *testing.T) {
	hints := []face.Hint{bar(0, 40), bar(20, 60), bar(64, 104)}
	f := fitter(t, &face.Private{BlueValues: []float64{-10, 0}}, 8, 203, Options{})
	f.Fit(boxes(hints, [4]int{0, 0, 300, 40}, [4]int{400, 20, 700, 60}, [4]int{0, 64, 300, 104}))
	require.Equal(t, 2*pixel, barAt(t, f, 64))
}

// A tilde in steps, 220 units high: 3.7 px. With a row of white between its halves it
// would be 5 px high.
func TestTheHalvesOfATildeNeedNoWhiteBetweenThem(t *testing.T) {
	d := contourOf([]face.Hint{bar(32, 124), bar(160, 252)},
		[2]int{0, 160}, [2]int{380, 160}, [2]int{380, 32}, [2]int{800, 32}, [2]int{800, 124}, [2]int{420, 124}, [2]int{420, 252}, [2]int{0, 252})
	f := fitter(t, &face.Private{}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 2*pixel, barAt(t, f, 160)-barAt(t, f, 32))
}

// A breve whose tips a zone holds on row 11, over a letter on row 8: its bowl, asked 8.6
// px, may touch the row of its own tips, between which it hangs, and not the letter.
func TestABreveHangsFreeOfItsLetter(t *testing.T) {
	hints := []face.Hint{bar(402, 460), bar(507, 567), bar(644, 664)}
	d := contourOf(hints, [2]int{0, 664}, [2]int{100, 507}, [2]int{300, 507}, [2]int{400, 664}, [2]int{340, 664}, [2]int{280, 567}, [2]int{120, 567}, [2]int{60, 664})
	for _, p := range [][2]int{{0, 402}, {400, 402}, {400, 460}, {0, 460}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	f := fitter(t, &face.Private{BlueValues: []float64{-14, 0, 450, 460, 662, 676}, BlueScale: 0.039625}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 7*pixel, barAt(t, f, 402))
	require.Equal(t, 10*pixel, barAt(t, f, 644))
	require.Equal(t, 9*pixel, barAt(t, f, 507))
}

// The top of a ring, at 672 units, and the bar of a stroke beside it that is said to
// begin there: the ring is as wide as its top is thick, so that its hint is a short one.
func TestTheTopOfARingIsNoSerifOfTheStrokeBesideIt(t *testing.T) {
	hints := []face.Hint{bar(632, 672), bar(671, 711)}
	stroke := [4]int{300, 671, 600, 711}
	for _, c := range []struct {
		why  string
		ring [4]int
		want int
	}{
		{"it ends there", [4]int{0, 632, 40, 672}, 0},
		{"it goes on as far as the stroke", [4]int{0, 632, 40, 711}, 1},
	} {
		d := boxes(hints, c.ring, stroke)
		if c.want > 0 { // a step at 672, where the short bar ends
			d = boxes(hints, stroke)
			for _, p := range [][2]int{{0, 632}, {40, 632}, {40, 672}, {20, 672}, {20, 711}, {0, 711}} {
				d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
			}
			d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
		}
		f := fitter(t, &face.Private{}, 8, 203, Options{})
		f.Fit(d)
		serifs := 0
		for _, l := range f.Choices().Left {
			if l.Why == Serif {
				serifs++
			}
		}
		require.Equal(t, c.want, serifs, c.why)
	}
}

// Three bars evenly spaced, 110 units, of which a zone holds the lowest: at equal gaps of
// two pixels the highest would stand more than a pixel below its place.
func TestNoBarOfARowStraysForTheSakeOfEqualCounters(t *testing.T) {
	hints := []face.Hint{bar(680, 699), bar(797, 839), bar(939, 954)}
	f := fitter(t, &face.Private{BlueValues: []float64{-10, 0, 694, 704}, BlueScale: 0.0625, StdHW: 20}, 7, 203, Options{})
	f.Fit(boxes(hints, [4]int{0, 680, 600, 699}, [4]int{0, 797, 600, 839}, [4]int{0, 939, 600, 954}))
	for i := range f.y.stems {
		s := &f.y.stems[i]
		require.LessOrEqual(t, abs(s.low-f.y.wish(s)), pixel, "%v", s.lo)
	}
}
