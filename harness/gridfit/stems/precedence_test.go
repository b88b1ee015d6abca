package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// rects gives each hint's stem a box of its own, tall or long enough to be one.
func rects(hints []face.Hint) (all [][4]int) {
	for _, h := range hints {
		lo, hi := h.Lo.Round(), h.Hi.Round()
		if h.Axis == glyph.AxisX {
			all = append(all, [4]int{lo, 0, hi, 680})
		} else {
			all = append(all, [4]int{0, lo, 500, hi})
		}
	}
	return all
}

// chosen fits stems drawn as boxes, each under its own hint alone, and gives them
// in the order of declaration.
func chosen(t *testing.T, p *face.Private, dpi int, hints ...face.Hint) []StemChoice {
	t.Helper()
	return chosenAt(t, p, 8, dpi, hints...)
}

func chosenAt(t *testing.T, p *face.Private, pt, dpi int, hints ...face.Hint) []StemChoice {
	t.Helper()
	f := fitter(t, p, pt, dpi, Options{})
	d := boxes(hints, rects(hints)...)
	d.Spans = nil
	for i := range hints {
		d.Spans = append(d.Spans, face.Span{Point: 4 * i, Hints: []int{i}})
	}
	f.Fit(d)
	c := f.Choices()
	require.Empty(t, c.Left)
	return c.Stems
}

// The two sides of a small zero: 1.2 px of counter, and 2 px for each stem.
func TestAStemPlacedEarlyMakesRoomForACounter(t *testing.T) {
	c := chosen(t, &face.Private{StdVW: 74}, 203, upright(176, 236), upright(290, 350))
	require.GreaterOrEqual(t, c[1].GivenLo-c[0].GivenHi, pixel)
}

// The bars of an Eth: the lower two touch, and so do the upper two.
func TestAnEdgeInCommonComesBeforeCounters(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-21, 0, 683, 704}, BlueScale: 0.04, StdHW: 39}
	c := chosen(t, p, 300, bar(0, 39), bar(39, 78), bar(322, 362), bar(605, 644), bar(644, 683))
	require.Equal(t, c[0].GivenHi, c[1].GivenLo)
	require.Equal(t, c[3].GivenHi, c[4].GivenLo)
}

// The ring of a percent sign reaches nearly as high as the slash beside it, whose top a
// zone holds.
func TestNoCounterIsKeptUnderATopEdge(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-20, 0, 692, 709}, BlueScale: 0.039625, StdHW: 44}
	d := boxes([]face.Hint{bar(666, 689)}, [4]int{0, 666, 300, 689}, [4]int{500, 0, 540, 709})
	f := fitter(t, p, 11, 203, Options{})
	f.Fit(d)
	require.Equal(t, fixed.I(20), f.Choices().Stems[0].GivenLo, "666 to 689 units are 20.7 to 21.4 px, and the row is 21")
}

// The serifs of a U, the left one drawn under the one hint and the right one
// under the other, 0.2 px apart.
func TestAlternativesInNearlyOnePlaceTakeOne(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-11, 0, 686, 697}, BlueScale: 0.04, StdHW: 47}
	c := chosen(t, p, 600, bar(636, 683), bar(639, 686))
	require.Equal(t, c[1].GivenLo, c[0].GivenLo)
	require.Equal(t, c[1].GivenHi, c[0].GivenHi)
}

// A crossbar at the x-height and a stroke from its lower edge up to the ascender:
// both are held by zones at the top, which leaves the lower edge to the bar.
func TestTheFreeEdgeOfASolidStemGivesWay(t *testing.T) {
	for _, c := range []struct {
		why        string
		pt         int
		zone       float64 // that holds the stroke
		low, width [2]int  // of the crossbar, and of the stroke
	}{
		{"15.7 px that would begin a row higher", 8, 603, [2]int{25, 25}, [2]int{3, 15}},
		{"43.1 px, of which two rows are a trifle", 22, 603, [2]int{66, 66}, [2]int{10, 45}},
		{"3.4 px, which are a stroke and no shape", 6, 436, [2]int{18, 19}, [2]int{3, 3}},
	} {
		p := &face.Private{BlueValues: []float64{-16, 0, 417, 433, c.zone, c.zone + 13}, BlueScale: 0.039625, BlueShift: 7, StdHW: 52}
		for i, s := range chosenAt(t, p, c.pt, 600, bar(368, 419), bar(368, int(c.zone))) {
			require.Equal(t, fixed.I(c.low[i]), s.GivenLo, c.why)
			require.Equal(t, fixed.I(c.width[i]), s.GivenHi-s.GivenLo, c.why)
		}
	}
}

// A bar with a stroke through it: each half is one stem with its half of the bar, and the bar has the
// outer edge of neither.
func TestASolidStemEndsWhereTheWiderOnesOverItDo(t *testing.T) {
	halves := []face.Hint{upright(80, 256), upright(128, 304), upright(128, 256)}
	for _, c := range []struct {
		why    string
		pt     int
		widths [3]int
	}{
		{"6.5, 6.5 and 4.7 px, taken for 4.9: at 5 px the second would be a pixel wider than the first", 13, [3]int{6, 6, 4}},
		{"4, 4 and 2.9 px: a pixel is too much of the bar to give up", 8, [3]int{4, 4, 3}},
	} {
		s := chosenAt(t, &face.Private{StdVW: 133}, c.pt, 203, halves...)
		for i, w := range c.widths {
			require.Equal(t, fixed.I(w), s[i].GivenHi-s[i].GivenLo, "%s: stem %d", c.why, i)
		}
		if c.widths[2] < 4 {
			continue
		}
		require.Equal(t, s[0].GivenHi, s[2].GivenHi, c.why)
		require.Equal(t, s[1].GivenLo, s[2].GivenLo, c.why)
	}
}

// Two bars that zones hold at their outer edges, half a pixel apart or less; a pixel is 44
// units. The rows of the zones, and widths rounded up, would leave no white between them.
func TestBarsThatZonesHoldGiveWayToTheWhiteBetweenThemIfTheyAreSolid(t *testing.T) {
	for _, c := range []struct {
		why          string
		lower, upper face.Hint
		want         [2][2]int // px
	}{
		{"the upper one, of 5 px, gives one", bar(0, 200), bar(225, 450), [2][2]int{{0, 5}, {6, 10}}},
		{"one of 4 px does as well", bar(0, 203), bar(226, 404), [2][2]int{{0, 5}, {6, 9}}},
		{"one of 3 px does not, but the lower one does", bar(0, 203), bar(226, 360), [2][2]int{{0, 4}, {5, 8}}},
		{"one that no zone holds has room to move, and the solid one stays", bar(-60, 80), bar(130, 300), [2][2]int{{-1, 2}, {3, 7}}},
		{"less than half a pixel of white may go, but they do not overlap", bar(0, 203), bar(210, 419), [2][2]int{{0, 5}, {5, 9}}},
	} {
		top := float64(c.upper.Hi.Round())
		p := &face.Private{BlueValues: []float64{-10, 0, top, top + 10}, BlueScale: 0.039625}
		stems := chosen(t, p, 203, c.lower, c.upper)
		for i, s := range stems {
			require.Equal(t, c.want[i], [2]int{s.GivenLo.Round(), s.GivenHi.Round()}, "%s: bar %d", c.why, i)
		}
	}
}

// The top bar of an OE and the hint of its O, which end below alike: 5 px each, but the
// overshoot puts the O's a pixel higher, and at its inner edge there is the bar's as well.
func TestOfTwoStemsAsWideTheOneDrawnWiderGivesWay(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-23, 0, 729, 749}, BlueScale: 0.03963, BlueShift: 7, StdHW: 125}
	c := chosenAt(t, p, 10, 300, bar(604, 729), bar(604, 741))
	require.Equal(t, []fixed.Int26_6{25 * pixel, 30 * pixel}, []fixed.Int26_6{c[0].GivenLo, c[0].GivenHi})
	require.Equal(t, []fixed.Int26_6{25 * pixel, 31 * pixel}, []fixed.Int26_6{c[1].GivenLo, c[1].GivenHi})
}

// Three dots of 2.4 px with gaps of 2 px: equal gaps of two would leave the group
// more than a pixel short at one side, equal gaps of three do not.
func TestCountersTakeTheGapThatStraysLeast(t *testing.T) {
	hints := []face.Hint{upright(86, 192), upright(282, 388), upright(478, 584)}
	d := boxes(hints, rects(hints)...)
	d.Counters = [][]int{{0, 1, 2}}
	f := fitter(t, &face.Private{StdVW: 107}, 8, 203, Options{})
	f.Fit(d)
	c := f.Choices().Stems
	require.Equal(t, c[1].GivenLo-c[0].GivenHi, c[2].GivenLo-c[1].GivenHi)
	require.LessOrEqual(t, abs(c[0].GivenLo-c[0].AskLo), pixel)
	require.LessOrEqual(t, abs(c[2].GivenHi-c[2].AskHi), pixel)
}

func TestStemsLeftOutAreToldWithTheReason(t *testing.T) {
	for _, c := range []struct {
		why  string
		draw *face.Drawing
		left LeftOut
	}{
		{
			"the bar of a horn begins under the top of the round beside it, which a zone holds lower",
			boxes([]face.Hint{bar(680, 789)}, [4]int{0, 0, 500, 705}, [4]int{510, 680, 600, 789}),
			LeftOut{glyph.AxisY, face.NoGhost, fu(680), fu(789), Crossed},
		},
		{
			"a serif is as long as it is wide, and begins where the stem ends",
			boxes([]face.Hint{upright(115, 187), upright(187, 259)}, [4]int{115, 0, 187, 680}, [4]int{187, 0, 259, 25}),
			LeftOut{glyph.AxisX, face.NoGhost, fu(187), fu(259), Serif},
		},
		{
			"a stem with its serif is no stem beside the stem alone",
			boxes([]face.Hint{upright(358, 427), upright(358, 512)}, [4]int{358, 0, 427, 611}, [4]int{427, 0, 512, 61}),
			LeftOut{glyph.AxisX, face.NoGhost, fu(358), fu(512), Serif},
		},
		{
			"a serif is none the less one if bars cut the edge of its stem in pieces",
			polygon([]face.Hint{upright(142, 232), upright(40, 142)}, [][2]int{
				{40, 0}, {250, 0}, {250, 31}, {232, 31}, {232, 150}, {400, 150}, {400, 180}, {232, 180}, {232, 310},
				{400, 310}, {400, 340}, {232, 340}, {232, 460}, {142, 460}, {142, 31}, {40, 31},
			}),
			LeftOut{glyph.AxisX, face.NoGhost, fu(40), fu(142), Serif},
		},
		{
			"no edge of the drawing is at 300",
			boxes([]face.Hint{upright(100, 184), upright(300, 384)}, [4]int{100, 0, 184, 680}),
			LeftOut{glyph.AxisX, face.NoGhost, fu(300), fu(384), NotShown},
		},
		{
			"of two that overlap on one contour and are in force together, the second",
			polygon([]face.Hint{bar(100, 200), bar(150, 250)}, [][2]int{{0, 100}, {300, 100}, {300, 150}, {600, 150}, {600, 250}, {300, 250}, {300, 200}, {0, 200}}),
			LeftOut{glyph.AxisY, face.NoGhost, fu(150), fu(250), Contradicted},
		},
	} {
		p := &face.Private{BlueValues: []float64{-22, 0, 683, 705}, BlueScale: 0.045}
		f := fitter(t, p, 8, 203, Options{})
		f.Fit(c.draw)
		require.Equal(t, []LeftOut{c.left}, f.Choices().Left, c.why)
	}
}

// A grave drawn clockwise over a letter drawn counter-clockwise is ink all the
// same, so its lower edge is no top; a counter's upper edge is a bottom of ink.
func TestAContourDrawnTheWrongWayRoundIsInk(t *testing.T) {
	f := fitter(t, &face.Private{BlueValues: []float64{-22, 0, 694, 716}}, 8, 203, Options{})
	letter := boxes(nil, [4]int{0, 0, 500, 461}, [4]int{100, 60, 400, 400}, [4]int{100, 694, 300, 816})
	for _, contour := range []int{1, 2} {
		p := letter.Outline.Points[4*contour:]
		p[1], p[3] = p[3], p[1]
	}
	f.Fit(letter)
	for _, s := range f.Choices().Stems {
		require.NotEqual(t, fu(694), s.Lo, "694 is held as a %v edge", s.Ghost)
	}
	require.True(t, f.inkLeft(letter.Outline.Points[4:8]), "a counter has its ink at the left as well")
	require.False(t, f.inkLeft(letter.Outline.Points[8:12]))
}

func TestAnExtremeIsToldByTheTurnTheOutlineTakes(t *testing.T) {
	at := func(x, y int) glyph.Point { return glyph.Point{X: fu(x), Y: fu(y)} }
	for _, c := range []struct {
		why     string
		contour [3]glyph.Point // the middle one is asked about; ink at the left
		want    face.Ghost
	}{
		{"up, then down, turning left: a tip", [3]glyph.Point{at(100, 0), at(50, 100), at(0, 0)}, face.GhostTop},
		{"up, then down, turning right: the top of a notch", [3]glyph.Point{at(0, 0), at(50, 100), at(100, 0)}, face.GhostBottom},
		{"leftward along a top", [3]glyph.Point{at(100, 100), at(50, 100), at(0, 100)}, face.GhostTop},
		{"rightward along a bottom", [3]glyph.Point{at(0, 0), at(50, 0), at(100, 0)}, face.GhostBottom},
		{"the lower edge of a serif, then down an italic stem", [3]glyph.Point{at(0, 100), at(50, 100), at(-20, 0)}, face.GhostBottom},
		{"up, with a bend", [3]glyph.Point{at(0, 0), at(50, 100), at(60, 200)}, face.NoGhost},
		{"down, with a bend", [3]glyph.Point{at(60, 200), at(50, 100), at(0, 0)}, face.NoGhost},
		{"straight up", [3]glyph.Point{at(0, 0), at(0, 100), at(0, 200)}, face.NoGhost},
	} {
		require.Equal(t, c.want, extreme(c.contour[:], 1, true), c.why)
	}
}

func TestAnOutlineIsLevelAsFarAsThePointsBesideOneAreOnItsRow(t *testing.T) {
	contour := polygon(nil, [][2]int{{0, 100}, {50, 100}, {90, 100}, {80, 0}}).Outline.Points
	for i, want := range [][2]int{{0, 50}, {0, 90}, {50, 90}, {80, 80}} {
		x0, x1 := level(contour, i)
		require.Equal(t, want, [2]int{int(x0) / 64, int(x1) / 64}, "point %d", i)
	}
}
