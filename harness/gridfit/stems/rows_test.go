package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// draw adds a contour to a drawing; a third number that is not 0 makes a control point.
func draw(d *face.Drawing, points ...[3]int) *face.Drawing {
	for _, p := range points {
		at := glyph.Point{X: fu(p[0]), Y: fu(p[1])}
		if p[2] != 0 {
			at.Kind = glyph.Cubic
		}
		d.Outline.Points = append(d.Outline.Points, at)
	}
	d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	return d
}

func topEdge(y int) face.Hint {
	return face.Hint{Axis: glyph.AxisY, Ghost: face.GhostTop, Lo: fu(y), Hi: fu(y)}
}

// A letter that a zone holds on row 7, with an ear 5 units higher, under the box of its
// accent but not under the accent itself: the ear is nearer to that, and asks for no white.
func TestAnAccentKeepsOffItsLetterWhateverElseIsNearer(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(377, 437), bar(467, 561)}),
		[3]int{0, 377}, [3]int{500, 377}, [3]int{500, 442}, [3]int{400, 442}, [3]int{390, 437}, [3]int{0, 437})
	draw(d, [3]int{100, 467}, [3]int{200, 467}, [3]int{200, 561}, [3]int{100, 561})
	f := fitter(t, &face.Private{BlueValues: []float64{-11, 0, 431, 442}, BlueScale: 0.04546}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 6*pixel, barAt(t, f, 377))
	require.Equal(t, 8*pixel, barAt(t, f, 467))
}

// A barred h: the bar, asked 8.6 px, has a row of white over the arch, on row 8, and none
// to the tip of the stem it crosses, on row 11.
func TestABarHasNoWhiteToTheTipOfItsOwnStem(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(400, 457), bar(508, 537), bar(648, 668)}),
		[3]int{81, 0}, [3]int{160, 0}, [3]int{160, 508}, [3]int{315, 508}, [3]int{315, 537}, [3]int{160, 537}, [3]int{160, 668},
		[3]int{81, 629}, [3]int{81, 537}, [3]int{-16, 537}, [3]int{-16, 508}, [3]int{81, 508})
	draw(d, [3]int{160, 400}, [3]int{420, 400}, [3]int{420, 457}, [3]int{160, 457})
	f := fitter(t, &face.Private{BlueValues: []float64{-14, 0, 450, 460, 662, 676}, BlueScale: 0.039625}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 7*pixel, barAt(t, f, 400))
	require.Equal(t, 9*pixel, barAt(t, f, 508))
}

// An AE: the arm of the E, asked 5.1 px, begins half a pixel over the bar of the A, on the
// other side of the stem. The top of that bar is the lower edge of a hole.
func TestABarUnderAHoleDoesNotFaceWhatIsBesideTheHole(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(200, 280), bar(312, 406)}),
		[3]int{0, 200}, [3]int{300, 200}, [3]int{300, 312}, [3]int{600, 312}, [3]int{600, 406}, [3]int{300, 406}, [3]int{300, 700}, [3]int{0, 700})
	draw(d, [3]int{50, 280}, [3]int{50, 650}, [3]int{250, 650}, [3]int{250, 280})
	f := fitter(t, &face.Private{}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 4*pixel, barAt(t, f, 200))
	require.Equal(t, 5*pixel, barAt(t, f, 312))
}

// An OE below BlueScale: its O goes from -22 to 705, the white inside it and the flats of
// its E from 0 to 683. The hairlines of the O are a pixel thick within the rows of the flats.
func TestTheWhiteInsideAnOvershootIsNoFlat(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(-22, 0), bar(0, 31), bar(652, 683), bar(683, 705)}),
		[3]int{100, -22}, [3]int{400, -22}, [3]int{400, 0}, [3]int{900, 0}, [3]int{900, 31}, [3]int{600, 31},
		[3]int{600, 652}, [3]int{900, 652}, [3]int{900, 683}, [3]int{400, 683}, [3]int{400, 705}, [3]int{100, 705})
	draw(d, [3]int{150, 0}, [3]int{150, 683}, [3]int{380, 683}, [3]int{380, 0})
	p := fitter(t, &face.Private{BlueValues: []float64{-22, 0, 683, 705}, BlueScale: 0.04379}, 9, 300, Options{}).Fit(d).Points
	for _, c := range []struct {
		why   string
		point int
		want  fixed.Int26_6
	}{
		{"bottom of the O", 0, 0},
		{"of the E", 3, 0},
		{"white inside the O", 12, pixel},
		{"its top", 13, 25 * pixel},
		{"top of the E", 8, 26 * pixel},
		{"of the O", 11, 26 * pixel},
	} {
		require.Equal(t, c.want, p[c.point].Y, c.why)
	}
}

// Both control points of a curve to the top of an OE are level with it, and none of its flats is.
func TestACurveStaysUnderTheRowThatItsExtremeStandsOn(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(652, 683), bar(683, 705)}), [3]int{0, 652}, [3]int{400, 652}, [3]int{400, 683}, [3]int{300, 683},
		[3]int{250, 705, 1}, [3]int{200, 705, 1}, [3]int{150, 705}, [3]int{100, 705, 1}, [3]int{0, 700, 1}, [3]int{0, 660})
	draw(d, [3]int{20, 670}, [3]int{20, 683}, [3]int{140, 683}, [3]int{140, 670})
	p := fitter(t, &face.Private{BlueValues: []float64{-22, 0, 683, 705}, BlueScale: 0.04379}, 9, 300, Options{}).Fit(d).Points
	for _, k := range []int{4, 5, 6, 7} {
		require.Equal(t, 26*pixel, p[k].Y, "point %d", k)
	}
}

// The tail of a sigma, 396 to 447, beside its bowl, which a zone puts on row 15: asked 13.3
// px, and pulled up by the foot, which has lost its overshoot.
func TestNoBarPassesTheRowOfAnEdgeFurtherOut(t *testing.T) {
	f := fitter(t, &face.Private{BlueValues: []float64{-15, 0, 455, 470}, BlueScale: 0.039625, StdHW: 48}, 12, 203, Options{})
	f.Fit(boxes([]face.Hint{bar(-15, 23), bar(396, 447), bar(416, 470)},
		[4]int{0, -15, 300, 23}, [4]int{350, 396, 520, 447}, [4]int{0, 416, 300, 470}))
	require.Equal(t, 13*pixel, barAt(t, f, 416))
	require.Equal(t, 13*pixel, barAt(t, f, 396))
}

// A breve over its letter: its tips, 51 units or 0.86 px over its bowl, keep a row for
// themselves; those of a flatter one, 0.61 px, are level with it.
func TestTheTipsOfABreveShow(t *testing.T) {
	for tip, want := range map[int]fixed.Int26_6{769: pixel, 754: 0} {
		d := draw(boxes([]face.Hint{bar(580, 622), bar(673, 718), topEdge(tip)}), [3]int{0, 580}, [3]int{400, 580}, [3]int{400, 622}, [3]int{0, 622})
		draw(d, [3]int{0, tip}, [3]int{100, 673}, [3]int{300, 673}, [3]int{400, tip}, [3]int{340, tip}, [3]int{280, 718}, [3]int{120, 718}, [3]int{60, tip})
		f := fitter(t, &face.Private{}, 6, 203, Options{})
		p := f.Fit(d).Points
		require.Equal(t, want, p[4].Y-barAt(t, f, 673)-pixel, "tips at %d", tip)
	}
}

// The tail of an italic y has two hints that begin where it does, asked -6.8 px: the wider
// one, at 4.3 px taken for 4, must follow the thinner one within a pixel.
func TestABarGoesWhereItsAlternativesCanFollow(t *testing.T) {
	f := fitter(t, &face.Private{BlueValues: []float64{-14, 0, 450, 470}, BlueScale: 0.039625, StdHW: 47, StemSnapH: []float64{98}}, 12, 203, Options{})
	f.Fit(boxes([]face.Hint{bar(-202, -160), bar(-202, -74), bar(389, 470)}, [4]int{0, -202, 300, -160}, [4]int{0, -202, 100, -74}, [4]int{0, 389, 300, 470}))
	for i := range f.y.stems {
		s := &f.y.stems[i]
		require.Equal(t, s.zone < 0, s.lo == fu(-202))
		if s.zone < 0 {
			require.LessOrEqual(t, abs(s.low-f.y.wish(s)), pixel, "%v to %v px", s.low, s.high())
		}
	}
}

// Of two bars 2 units apart the second was put in the place of the first, which stays there.
func TestABarWhosePlaceAnotherTookIsNotMovedAway(t *testing.T) {
	for _, c := range []struct {
		why  string
		axis glyph.Axis
		low  fixed.Int26_6 // of the first bar, device pixels
		want bool
	}{
		{"in one place", glyph.AxisY, 3 * pixel, true},
		{"the other one stands elsewhere", glyph.AxisY, 4 * pixel, false},
		{"upright stems may stray", glyph.AxisX, 3 * pixel, false},
	} {
		a := &axis{axis: c.axis, scale: at(t, 6, 203), stems: []stem{
			{lo: fu(230), hi: fu(249), width: pixel, low: c.low, placed: true},
			{lo: fu(232), hi: fu(251), width: pixel, low: 3 * pixel, placed: true, by: ByEdge},
		}}
		require.Equal(t, c.want, a.shares(&a.stems[0]), c.why)
	}
}

// A tilde of thin strokes between a letter on row 12 and a macron. Its halves are half a
// pixel aside of each other: the white between them counts for less than that the macron,
// asked 15.5 px, is not pushed off its row.
func TestTheHalvesOfATildeGiveWayToWhatIsOverThem(t *testing.T) {
	d := draw(boxes([]face.Hint{bar(680, 699), bar(772, 788), bar(830, 846), bar(936, 951)}, [4]int{0, 680, 800, 699}, [4]int{0, 936, 800, 951}),
		[][3]int{{0, 830}, {362, 830}, {388, 772}, {800, 772}, {800, 788}, {388, 788}, {362, 846}, {0, 846}}...)
	f := fitter(t, &face.Private{BlueValues: []float64{-10, 0, 694, 704}, BlueScale: 0.0625, StdHW: 20}, 6, 203, Options{})
	f.Fit(d)
	require.Equal(t, 14*pixel, barAt(t, f, 830))
	require.Equal(t, 16*pixel, barAt(t, f, 936))
}
