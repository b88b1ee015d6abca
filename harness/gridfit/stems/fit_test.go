package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

func upright(lo, hi int) face.Hint { return face.Hint{Axis: glyph.AxisX, Lo: fu(lo), Hi: fu(hi)} }
func bar(lo, hi int) face.Hint     { return face.Hint{Axis: glyph.AxisY, Lo: fu(lo), Hi: fu(hi)} }

// boxes draws one rectangle for each x0, y0, x1, y1 in font units, under hints
// that are all in force all the time.
func boxes(hints []face.Hint, rects ...[4]int) *face.Drawing {
	d := &face.Drawing{Hints: hints}
	span := face.Span{}
	for i := range hints {
		span.Hints = append(span.Hints, i)
	}
	d.Spans = []face.Span{span}
	for _, r := range rects {
		for _, p := range [4][2]int{{r[0], r[1]}, {r[2], r[1]}, {r[2], r[3]}, {r[0], r[3]}} {
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
		}
		d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	}
	return d
}

// polygon draws one contour under hints that are all in force.
func polygon(hints []face.Hint, points [][2]int) *face.Drawing {
	d := boxes(hints)
	for _, p := range points {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{len(points) - 1}
	return d
}

func fitter(t *testing.T, p *face.Private, pt, dpi int, o Options) *Fitter {
	t.Helper()
	s := glyph.PixelsPerEm(glyph.Pt(pt), glyph.Dots(dpi))
	return New(p, Size{s, 1000}, o)
}

// An 84-unit stem at 8 pt and 203 dpi is 1.895 px: without fitting it fills one
// or two pixels by where it stands.
func TestAStemIsAsWideWhereverItStands(t *testing.T) {
	f := fitter(t, dictionary(), 8, 203, Options{})
	for x := range 200 {
		o := f.Fit(boxes([]face.Hint{upright(x, x+84)}, [4]int{x, 0, x + 84, 662}))
		left, right := o.Points[0].X, o.Points[1].X
		require.Equal(t, 2*pixel, right-left, "at %d units", x)
		require.Zero(t, left%pixel, "at %d units", x)
		off := (left+right)/2 - f.x.scale.of(fu(x)+fu(42))
		require.LessOrEqual(t, abs(off), pixel/2, "at %d units", x)
	}
}

func TestPairedStemsAndTheirSerifsComeOutAlike(t *testing.T) {
	for x := range 100 {
		d := boxes([]face.Hint{upright(x+60, x+144), upright(x+390, x+474)},
			[4]int{x + 60, 0, x + 144, 662}, [4]int{x + 390, 0, x + 474, 662}, // the stems
			[4]int{x, 0, x + 204, 30}, [4]int{x + 330, 0, x + 534, 30}) // their serifs
		for pt := 6; pt <= 24; pt++ {
			f := fitter(t, dictionary(), pt, 203, Options{})
			p := f.Fit(d).Points
			for _, stem := range []int{0, 4} {
				serif := 8 + stem
				left, right := p[stem].X-p[serif].X, p[serif+1].X-p[stem+1].X
				require.InDelta(t, int(left), int(right), 1, "serifs of stem %d, %d pt, at %d units", stem, pt, x)
			}
			require.Equal(t, p[1].X-p[0].X, p[5].X-p[4].X, "%d pt", pt)
		}
	}
}

func TestFlatAndRoundStandOnOneRowBelowBlueScale(t *testing.T) {
	f := fitter(t, dictionary(), 8, 300, Options{})
	flat := f.Fit(boxes([]face.Hint{bar(420, 450), bar(0, 30)}, [4]int{0, 0, 100, 450})).Points
	require.Equal(t, fixed.I(15), flat[2].Y, "450 units are 15.0 px")
	require.Zero(t, flat[0].Y)
	round := f.Fit(boxes([]face.Hint{bar(430, 460), bar(-14, 16)}, [4]int{0, -14, 100, 460})).Points
	require.Equal(t, flat[2].Y, round[2].Y)
	require.Zero(t, round[0].Y)

	f = fitter(t, dictionary(), 10, 300, Options{})
	round = f.Fit(boxes([]face.Hint{bar(430, 460), bar(-14, 16)}, [4]int{0, -14, 100, 460})).Points
	require.Equal(t, fixed.I(20), round[2].Y, "450 units are 18.75 px; the row is 19, and a round goes one beyond")
	require.Equal(t, -pixel, round[0].Y)
}

func TestUndeclaredExtremesInAZoneStandOnItsRow(t *testing.T) {
	p := fitter(t, dictionary(), 8, 203, Options{}).Fit(boxes(nil, [4]int{0, -10, 100, 670})).Points
	require.Zero(t, p[0].Y)
	require.Equal(t, fixed.I(15), p[2].Y, "662 units are 14.93 px")
}

// The apex at 676 is in a zone; the one at 600 is an edge that a hint holds, or none; the
// feet stand on the baseline.
func TestExtremesThatStandOnRowsMustShow(t *testing.T) {
	feet, first, second := glyph.Tip{}, glyph.Tip{Point: 1, Top: true}, glyph.Tip{Point: 3, Top: true}
	for _, c := range []struct {
		why   string
		hints []face.Hint
		tips  []glyph.Tip
	}{
		{"in a zone", nil, []glyph.Tip{feet, second, {Point: 4}}},
		{"held by a hint", []face.Hint{{Axis: glyph.AxisY, Lo: fu(600), Hi: fu(600), Ghost: face.GhostTop}}, []glyph.Tip{feet, first, second, {Point: 4}}},
	} {
		d := polygon(c.hints, [][2]int{{0, 0}, {200, 600}, {250, 300}, {300, 676}, {500, 0}})
		require.Equal(t, c.tips, fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Tips, c.why)
	}
}

// A bar declared from the end of an overshoot to the flat position is no stroke:
// below BlueScale both of its edges stand on the row.
func TestABarThatIsAnOvershootTakesNoRow(t *testing.T) {
	hints := []face.Hint{bar(-9, 0), bar(261, 312)}
	p := fitter(t, dictionary(), 8, 203, Options{}).Fit(boxes(hints, [4]int{0, 0, 100, 312}, [4]int{200, -9, 300, 312})).Points
	require.Zero(t, p[0].Y)
	require.Zero(t, p[4].Y)
}

// The bottom stroke of a round with a light overshoot: its upper edge is where
// flats stand, but it is the counter's bottom, not a flat of the letter.
func TestABarUnderACounterIsAStroke(t *testing.T) {
	d := boxes([]face.Hint{bar(-15, 0), upright(0, 50), upright(250, 300)}, [4]int{0, -15, 300, 450}, [4]int{50, 0, 250, 420})
	inner := d.Outline.Points[4:]
	inner[0], inner[1], inner[2], inner[3] = inner[3], inner[2], inner[1], inner[0] // clockwise
	p := fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Points
	require.Equal(t, []fixed.Int26_6{0, pixel}, []fixed.Int26_6{p[0].Y, p[6].Y})
}

// The tail of an R runs out under the baseline, 22 units thick, beside a serif at 0.
func TestABarInTheOvershootIsAStrokeWhereItsInkEndsThere(t *testing.T) {
	hints := []face.Hint{bar(-15, 0), bar(0, 30)}
	for _, c := range []struct {
		why   string
		tail  [4]int
		spans []face.Span
		want  [2]fixed.Int26_6 // the tail's edges
	}{
		{"the tail's ink ends at 0", [4]int{200, -15, 300, 0}, []face.Span{{Point: 0, Hints: []int{1}}, {Point: 4, Hints: []int{0}}}, [2]fixed.Int26_6{0, pixel}},
		{"a round goes on up from the overshoot", [4]int{200, -15, 300, 450}, []face.Span{{Point: 0, Hints: []int{1}}, {Point: 4, Hints: []int{0}}}, [2]fixed.Int26_6{0, fixed.I(10)}},
	} {
		d := boxes(hints, [4]int{0, 0, 100, 450}, c.tail)
		d.Spans = c.spans
		p := fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Points
		require.Zero(t, p[0].Y, "the serif: %s", c.why)
		require.Equal(t, c.want, [2]fixed.Int26_6{p[4].Y, p[6].Y}, c.why)
	}
}

// The same tail, in force where a stroke of another kind stands on the baseline with
// its tip, as in a recipe sign.
func TestAStrokeInTheOvershootDoesNotLiftWhatStandsOnTheRow(t *testing.T) {
	d := boxes([]face.Hint{bar(-15, 0)}, [4]int{200, -15, 300, 0}, [4]int{0, 0, 100, 450})
	p := fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Points
	require.Equal(t, []fixed.Int26_6{0, pixel}, []fixed.Int26_6{p[0].Y, p[2].Y})
	require.Zero(t, p[4].Y)
}

// The hook of a six has its bar in one zone, and an edge hint says that ink ends in
// the zone below, on the same row.
func TestABarGoesBeforeAnEdgeHintThatContradictsIt(t *testing.T) {
	edge := face.Hint{Axis: glyph.AxisY, Lo: fu(655), Hi: fu(655), Ghost: face.GhostTop}
	p := dictionary()
	p.BlueValues = []float64{-15, 0, 655, 660, 675, 690}
	o := fitter(t, p, 6, 203, Options{}).Fit(boxes([]face.Hint{edge, bar(658, 688)}, [4]int{0, 658, 100, 688})).Points
	require.Equal(t, []fixed.Int26_6{fixed.I(10), fixed.I(11)}, []fixed.Int26_6{o[0].Y, o[2].Y}, "655 and 675 units are 11.1 and 11.4 px")
}

// An undeclared flat serif at 450 beside a declared round of 405 to 460.
func TestAnUndeclaredFlatStandsOnItsRowInsideAStem(t *testing.T) {
	for pt := 6; pt <= 24; pt++ {
		f := fitter(t, dictionary(), pt, 600, Options{})
		p := f.Fit(boxes([]face.Hint{bar(405, 460)}, [4]int{0, 0, 100, 450}, [4]int{200, 405, 300, 460})).Points
		require.Equal(t, f.y.zones[1].row, p[2].Y, "%d pt", pt)
		require.Equal(t, f.y.zones[1].fit(fu(460)), p[6].Y, "%d pt", pt)
	}
}

// Edge hints have one edge (TN5177; Type 1 book, p. 57, ghost hints).
func TestGhostHintsPlaceTheirOneEdge(t *testing.T) {
	hints := []face.Hint{
		{Axis: glyph.AxisY, Lo: fu(-10), Hi: fu(-10), Ghost: face.GhostBottom},
		{Axis: glyph.AxisY, Lo: fu(660), Hi: fu(660), Ghost: face.GhostTop},
		{Axis: glyph.AxisY, Lo: fu(300), Hi: fu(300), Ghost: face.GhostTop},
	}
	f := fitter(t, &face.Private{BlueValues: []float64{-10, 0}, BlueScale: 0.039625}, 8, 203, Options{})
	p := f.Fit(boxes(hints, [4]int{0, -10, 100, 660}, [4]int{0, 20, 100, 300})).Points
	require.Zero(t, p[0].Y, "in the zone")
	require.Equal(t, fixed.I(15), p[2].Y, "14.89 px, in no zone: to the nearest pixel")
	require.Equal(t, fixed.I(7), p[6].Y, "6.77 px")
}

// The top of what hangs under the baseline, seven units below it, where 66.67 pixels make an
// em: as a bottom it would be an overshoot, and stand a row lower.
func TestABottomZoneHoldsNoTopEdge(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-10, 0}, BlueScale: 0.039625, BlueShift: 7}
	for ghost, want := range map[face.Ghost]fixed.Int26_6{face.GhostTop: 0, face.GhostBottom: -pixel} {
		hint := face.Hint{Axis: glyph.AxisY, Lo: fu(-7), Hi: fu(-7), Ghost: ghost}
		box := [4]int{0, -100, 100, -7}
		if ghost == face.GhostBottom {
			box = [4]int{0, -7, 100, 100}
		}
		f := fitter(t, p, 8, 600, Options{})
		f.Fit(boxes([]face.Hint{hint}, box))
		require.Equal(t, want, f.Choices().Stems[0].GivenLo)
	}
}

func TestCountersOfAGroupComeOutEqual(t *testing.T) {
	hints := []face.Hint{bar(100, 140), bar(300, 340), bar(500, 540)}
	for pt := 6; pt <= 24; pt++ {
		for shift := range 40 {
			moved := make([]face.Hint, 3)
			for i, h := range hints {
				moved[i] = bar(h.Lo.Round()+shift, h.Hi.Round()+shift)
			}
			d := boxes(moved, [4]int{0, 100 + shift, 500, 140 + shift}, [4]int{0, 300 + shift, 500, 340 + shift}, [4]int{0, 500 + shift, 500, 540 + shift})
			d.Counters = [][]int{{0, 1, 2}}
			p := fitter(t, &face.Private{}, pt, 203, Options{}).Fit(d).Points
			require.Equal(t, p[4].Y-p[2].Y, p[8].Y-p[6].Y, "%d pt, %d units", pt, shift)
			require.Equal(t, p[2].Y-p[0].Y, p[10].Y-p[8].Y, "%d pt, %d units", pt, shift)
		}
	}
}

func TestThreeStemsSpacedAlikeHaveEqualCountersUndeclared(t *testing.T) {
	for x := range 60 {
		d := boxes([]face.Hint{upright(x, x+84), upright(x+300, x+384), upright(x+600, x+684)},
			[4]int{x, 0, x + 84, 450}, [4]int{x + 300, 0, x + 384, 450}, [4]int{x + 600, 0, x + 684, 450})
		p := fitter(t, dictionary(), 7, 203, Options{}).Fit(d).Points
		require.Equal(t, p[4].X-p[1].X, p[8].X-p[5].X, "at %d units", x)
	}
}

func TestWhereZonesHoldTwoBarsTheyGoBeforeEqualCounters(t *testing.T) {
	hints := []face.Hint{bar(0, 40), bar(311, 351), bar(622, 662)}
	d := boxes(hints, [4]int{0, 0, 500, 40}, [4]int{0, 311, 500, 351}, [4]int{0, 622, 500, 662})
	d.Counters = [][]int{{0, 1, 2}}
	p := fitter(t, dictionary(), 8, 203, Options{}).Fit(d).Points
	require.Zero(t, p[0].Y)
	require.Equal(t, fixed.I(15), p[10].Y)
	require.Equal(t, []fixed.Int26_6{pixel, pixel, pixel}, []fixed.Int26_6{p[2].Y - p[0].Y, p[6].Y - p[4].Y, p[10].Y - p[8].Y})
}

func TestACounterOfAPixelStaysOpen(t *testing.T) {
	// 31 units between two bars of 30 are 0.52 px at 6 pt and 203 dpi.
	hints := []face.Hint{bar(100, 130), bar(161, 191)}
	p := fitter(t, &face.Private{}, 6, 203, Options{}).Fit(boxes(hints, [4]int{0, 100, 500, 130}, [4]int{0, 161, 500, 191})).Points
	require.Equal(t, pixel, p[4].Y-p[2].Y)
}

// The body of an exclamation mark, 8.7 px high, gives up a row for the gap above the dot.
func TestASolidShapeGivesWayToACounterBetweenZones(t *testing.T) {
	hints := []face.Hint{bar(-9, 105), bar(171, 683)}
	p := &face.Private{BlueValues: []float64{-16, 0, 671, 689}, BlueScale: 0.039625}
	o := fitter(t, p, 6, 203, Options{}).Fit(boxes(hints, [4]int{0, -9, 112, 105}, [4]int{0, 171, 112, 683})).Points
	require.Equal(t, []fixed.Int26_6{0, 2 * pixel, 3 * pixel, 11 * pixel}, []fixed.Int26_6{o[0].Y, o[2].Y, o[4].Y, o[6].Y})
}

func TestHintsAreReplacedInMidPath(t *testing.T) {
	// Two bars that overlap and are never in force together.
	d := boxes([]face.Hint{bar(400, 430), bar(410, 460)}, [4]int{0, 400, 100, 430}, [4]int{200, 410, 300, 460})
	d.Spans = []face.Span{{Point: 0, Hints: []int{0}}, {Point: 4, Hints: []int{1}}}
	p := fitter(t, &face.Private{}, 8, 203, Options{}).Fit(d).Points
	require.Equal(t, pixel, p[2].Y-p[0].Y, "30 units are 0.68 px")
	require.Equal(t, pixel, p[6].Y-p[4].Y, "50 units are 1.13 px")
	for i := range p {
		require.Zero(t, p[i].Y%pixel, "point %d stands on its own hint's edge", i)
	}
}

// The foot of a u, whose contour begins on the upper edge of the foot and ends on the lower
// one; in between comes the round, a little lower than the foot and in its way.
func TestAnEdgeGoesByTheHintNearestAlongTheContour(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-11, 0}, BlueScale: 0.04, StdHW: 75, BlueShift: 7}
	d := polygon([]face.Hint{bar(-6, 70), bar(0, 75)}, [][2]int{{500, 75}, {400, 75}, {300, 70}, {100, 70}, {100, -6}, {300, -6}, {400, 0}, {500, 0}})
	d.Spans = []face.Span{{}, {Point: 2, Hints: []int{0}}, {Point: 6, Hints: []int{1}}}
	o := fitter(t, p, 11, 600, Options{}).Fit(d).Points
	require.Equal(t, 7*pixel, o[0].Y-o[7].Y, "75 units are 6.9 px")
}

func TestStemsInForceTogetherThatOverlapGoByOrderOfDeclaration(t *testing.T) {
	d := polygon([]face.Hint{upright(100, 200), upright(150, 260)}, [][2]int{{100, 0}, {200, 0}, {200, 300}, {260, 300}, {260, 600}, {150, 600}, {150, 300}, {100, 300}})
	p := fitter(t, &face.Private{}, 8, 203, Options{}).Fit(d).Points
	require.Equal(t, 2*pixel, p[1].X-p[0].X)
	require.Zero(t, p[0].X%pixel)
	require.Equal(t, p[1].X+fitter(t, &face.Private{}, 8, 203, Options{}).x.scale.of(fu(60)), p[4].X, "the second is only carried along")
}

// A letter and a mark above it, whose stems overlap: both are in force all the time.
func TestAContourGoesByItsOwnStemBeforeAnothers(t *testing.T) {
	d := boxes([]face.Hint{upright(100, 200), upright(150, 260)}, [4]int{100, 0, 200, 400}, [4]int{150, 500, 260, 700})
	p := fitter(t, &face.Private{}, 8, 203, Options{}).Fit(d).Points
	for i := range p {
		require.Zero(t, p[i].X%pixel, "point %d stands on an edge of its own stem", i)
	}
	require.Equal(t, 2*pixel, p[1].X-p[0].X, "100 units are 2.26 px")
	require.Equal(t, 2*pixel, p[5].X-p[4].X, "110 units are 2.48 px")
}

// The dots of an i with two, all three under one set of hints: asked are -0.3 to 5.1,
// 5.6 to 10.2 and 10.4 to 15.9 px, and the widths are 6, 5 and 6.
func TestDotsMayOverlapTheStemUnderThem(t *testing.T) {
	p := &face.Private{StdVW: 84, StemSnapV: []float64{84, 102}}
	d := boxes([]face.Hint{upright(-6, 94), upright(104, 188), upright(193, 293)}, [4]int{104, 0, 188, 450}, [4]int{-6, 557, 94, 657}, [4]int{193, 557, 293, 657})
	f := fitter(t, p, 13, 300, Options{})
	o := f.Fit(d).Points
	requireNear(t, f.Choices().Stems, "no bearing is off for the counters between dots and stem")
	require.Equal(t, o[0].X-o[4].X, o[9].X-o[1].X, "the dots are alike about the stem")
	require.Equal(t, 6*pixel, o[5].X-o[4].X)
	require.Equal(t, 6*pixel, o[9].X-o[8].X)
}

func TestAlternativesShareTheEdgeTheyHaveInCommon(t *testing.T) {
	d := boxes([]face.Hint{upright(100, 184), upright(100, 220)}, [4]int{100, 0, 184, 400}, [4]int{100, 400, 220, 600})
	d.Spans = []face.Span{{Point: 0, Hints: []int{0}}, {Point: 4, Hints: []int{1}}}
	p := fitter(t, &face.Private{}, 8, 203, Options{}).Fit(d).Points
	require.Equal(t, p[0].X, p[4].X)
	require.Equal(t, 3*pixel, p[5].X-p[4].X, "120 units are 2.7 px")
}

// A flex no higher than its threshold is drawn straight (Type 1 book, 8.3). 15
// units are 0.5 px at 33.33 ppem, 16 are 0.53.
func TestFlexIsDrawnStraightUpToHalfAPixel(t *testing.T) {
	for depth, straight := range map[int]bool{10: true, 15: true, 16: false} {
		d := &face.Drawing{Flexes: []face.Flex{{First: 1, Axis: glyph.AxisY, Depth: fixed.I(50)}}}
		for i, y := range []int{300, 300, 300 - depth, 300 - depth, 300 - depth, 300, 300} {
			kind := glyph.Cubic
			if i%3 == 0 {
				kind = glyph.OnCurve
			}
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(40 * i), Y: fu(y), Kind: kind})
		}
		d.Outline.Ends = []int{6}
		p := fitter(t, &face.Private{}, 8, 300, Options{}).Fit(d).Points
		for i := range p {
			if straight {
				require.Equal(t, fixed.I(10), p[i].Y, "depth %d, point %d", depth, i)
			}
		}
		require.Equal(t, straight, p[3].Y == p[0].Y, "depth %d", depth)
	}
}

func TestGreyDevicesHaveXOnlyScaled(t *testing.T) {
	f := fitter(t, dictionary(), 8, 203, Options{YOnly: true})
	p := f.Fit(boxes([]face.Hint{upright(33, 117), bar(0, 30)}, [4]int{33, 0, 117, 662})).Points
	require.Equal(t, f.x.scale.of(fu(33)), p[0].X)
	require.Equal(t, f.x.scale.of(fu(117)), p[1].X)
	require.Equal(t, fixed.I(15), p[2].Y)
}

// Two stems 203 units apart are 4.58 px apart at 8 pt and 203 dpi: which of four
// and five pixels they get depends on where the glyph begins, until the
// whole glyph may move.
func TestSidewaysPlacementMakesTheDistanceOfStemsIndependentOfTheirPlace(t *testing.T) {
	apart := func(o Options) map[fixed.Int26_6]bool {
		seen := map[fixed.Int26_6]bool{}
		for x := range 60 {
			f := fitter(t, dictionary(), 8, 203, o)
			p := f.Fit(boxes([]face.Hint{upright(x, x+84), upright(x+203, x+287)}, [4]int{x, 0, x + 84, 450}, [4]int{x + 203, 0, x + 287, 450})).Points
			require.Less(t, abs(f.Choices().Sideways), pixel)
			seen[p[4].X-p[0].X] = true
		}
		return seen
	}
	require.Len(t, apart(Options{}), 2)
	require.Equal(t, map[fixed.Int26_6]bool{5 * pixel: true}, apart(Options{Sideways: true}))
}

func TestDrawingsThatHoldNonsenseAreFittedAllTheSame(t *testing.T) {
	square := boxes(nil, [4]int{0, 0, 100, 450})
	for why, change := range map[string]func(d *face.Drawing){
		"spans name hints that are not there":    func(d *face.Drawing) { d.Spans = []face.Span{{Hints: []int{-1, 99}}} },
		"spans run backward and past the end":    func(d *face.Drawing) { d.Spans = []face.Span{{Point: 3}, {Point: 1}, {Point: 999}} },
		"counters name hints that are not there": func(d *face.Drawing) { d.Counters = [][]int{{-1, 0, 99}} },
		"flexes reach past the outline":          func(d *face.Drawing) { d.Flexes = []face.Flex{{First: 0}, {First: 3}, {First: -9}} },
		"a stem upside down and one far away": func(d *face.Drawing) {
			d.Hints = []face.Hint{upright(90, 10), {Lo: -1 << 31, Hi: 1<<31 - 1}}
			d.Spans = []face.Span{{Hints: []int{0, 1}}}
		},
		"contours end before they begin": func(d *face.Drawing) { d.Outline.Ends = []int{3, 1, 99} },
	} {
		d := *square
		change(&d)
		o := fitter(t, dictionary(), 8, 203, Options{Sideways: true}).Fit(&d)
		require.Len(t, o.Points, 4, why)
		require.Equal(t, fixed.I(10), o.Points[2].Y, "%s: 450 units are 10.15 px, and in a zone", why)
	}
}

// Two halves of 140 units, 4.67 px at 8 pt and 300 dpi, are taken for 130 units and
// become 4 px each: side by side they would end 1.4 px short of the outline.
func TestHalfStrokesThatShareAnEdgeKeepTheBearing(t *testing.T) {
	p := dictionary()
	p.StdVW, p.StemSnapV = 130, []float64{130}
	for x := range 100 {
		d := boxes([]face.Hint{upright(x, x+140), upright(x+140, x+280)}, [4]int{x, 0, x + 140, 400}, [4]int{x + 140, 0, x + 280, 400})
		f := fitter(t, p, 8, 300, Options{})
		o := f.Fit(d).Points
		require.LessOrEqual(t, abs(o[0].X-f.x.scale.of(fu(x))), pixel, "left, at %d units", x)
		require.LessOrEqual(t, abs(o[5].X-f.x.scale.of(fu(x+280))), pixel, "right, at %d units", x)
	}
}
