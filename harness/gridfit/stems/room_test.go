package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// A tail under a bar, drawn from where the bar ends under a hint of its own that
// overlaps the one before: its left edge begins under the one and ends under the other.
func TestAnEdgeStaysUprightWhereHintsAreReplacedAlongIt(t *testing.T) {
	d := &face.Drawing{
		Hints: []face.Hint{upright(70, 148), upright(368, 446), upright(407, 485)},
		Spans: []face.Span{{Hints: []int{0, 1}}, {Point: 9, Hints: []int{0, 2}}},
	}
	for _, p := range [][2]int{{446, 64}, {446, 444}, {368, 444}, {368, 64}, {148, 64}, {148, 444}, {70, 444}, {70, 0}, {407, 0}, {407, -128}, {485, -128}, {485, 64}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{11}
	for pt := 6; pt <= 24; pt++ {
		o := fitter(t, &face.Private{StdVW: 78}, pt, 203, Options{}).Fit(d).Points
		require.Equal(t, o[9].X, o[8].X, "the left edge, %d pt", pt)
		require.Equal(t, o[3].X-o[0].X, o[9].X-o[10].X, "equal stems, %d pt", pt)
	}
}

// The dots of a dieresis: the left one ends where the stem under it begins or a unit
// beside, and is as long as it is wide, as a serif would be.
func TestADotBesideAStemIsNoSerif(t *testing.T) {
	for pt := 6; pt <= 24; pt++ {
		d := boxes([]face.Hint{upright(78, 150), upright(-11, 77), upright(150, 238)},
			[4]int{78, 0, 150, 523}, [4]int{-11, 607, 77, 703}, [4]int{150, 607, 238, 703})
		d.Spans = []face.Span{{Hints: []int{0}}, {Point: 4, Hints: []int{1, 2}}}
		f := fitter(t, &face.Private{StdVW: 72, StemSnapV: []float64{88}}, pt, 203, Options{})
		o := f.Fit(d).Points
		require.Equal(t, o[5].X-o[4].X, o[9].X-o[8].X, "%d pt", pt)
		require.Zero(t, o[8].X%pixel, "%d pt", pt)
	}
}

// The horn of an O is as tall as it is wide: the upper half reaches back over the stem
// that the lower half is.
func TestAStubAsTallAsItGoesBeyondItsStemIsNoSerif(t *testing.T) {
	d := boxes([]face.Hint{upright(476, 533), upright(419, 533)}, [4]int{476, 400, 533, 533}, [4]int{419, 533, 533, 648})
	d.Spans = []face.Span{{Hints: []int{0}}, {Point: 4, Hints: []int{1}}}
	f := fitter(t, &face.Private{StdVW: 114}, 10, 203, Options{})
	o := f.Fit(d).Points
	require.Equal(t, 3*pixel, o[5].X-o[4].X, "3.2 px")
	require.Zero(t, o[4].X%pixel)
}

// A pattern of dots that touch, 3.7 px each and taken for 4: none is dropped for the
// sake of the bearing.
func TestStemsThatTouchAreAllKept(t *testing.T) {
	for x := range 30 {
		hints := []face.Hint{upright(x, 149+x), upright(150+x, 299+x), upright(301+x, 450+x), upright(450+x, 599+x)}
		d := boxes(hints, rects(hints)...)
		o := fitter(t, &face.Private{StdVW: 51, StemSnapV: []float64{152}}, 6, 300, Options{}).Fit(d).Points
		for k := range 4 {
			require.Equal(t, 4*pixel, o[4*k+1].X-o[4*k].X, "dot %d, at %d units", k, x)
		}
	}
}

// A dieresis over a U: stem, dot, dot and stem, evenly spaced within a quarter of a
// pixel. Counters equal for three of them alone would leave it lopsided.
func TestARowOfFourHasThreeEqualCounters(t *testing.T) {
	hints := []face.Hint{upright(85, 178), upright(232, 336), upright(394, 498), upright(552, 645)}
	f := fitter(t, &face.Private{StdVW: 93}, 8, 203, Options{})
	o := f.Fit(boxes(hints, rects(hints)...)).Points
	gap := func(k int) fixed.Int26_6 { return o[4*k+4].X - o[4*k+1].X }
	require.Equal(t, []fixed.Int26_6{gap(0), gap(0)}, []fixed.Int26_6{gap(1), gap(2)})
}

// A pi whose feet and the white between them are declared as three stems side by side:
// there is no counter to make equal to another.
func TestStemsSideBySideHaveNoCounters(t *testing.T) {
	hints := []face.Hint{upright(150, 250), upright(250, 350), upright(350, 450)}
	d := boxes(hints, [4]int{150, 0, 250, 400}, [4]int{350, 0, 450, 400})
	d.Counters = [][]int{{0, 1, 2}}
	for pt := 6; pt <= 24; pt++ {
		f := fitter(t, &face.Private{StdVW: 100}, pt, 600, Options{})
		o := f.Fit(d).Points
		require.LessOrEqual(t, f.x.off(o[0].X, fu(150)), pixel, "%d pt", pt)
		require.LessOrEqual(t, f.x.off(o[5].X, fu(450)), pixel, "%d pt", pt)
		require.Equal(t, o[1].X-o[0].X, o[5].X-o[4].X, "%d pt", pt)
	}
}

// An E with a hook over it, whose stems lie between those of the E and hardly a pixel
// apart: they need no counters from it, which would push its right side out by two pixels.
func TestAnAccentPushesNoStemOfItsLetter(t *testing.T) {
	hints := []face.Hint{upright(62, 107), upright(108, 144), upright(152, 187), upright(201, 245), upright(208, 242), upright(280, 325)}
	d := boxes(hints, [4]int{62, 0, 107, 532}, [4]int{201, 0, 245, 532}, [4]int{280, 0, 325, 532},
		[4]int{108, 600, 144, 700}, [4]int{152, 600, 187, 700}, [4]int{208, 600, 242, 700})
	d.Spans = []face.Span{{Hints: []int{0, 3, 5}}, {Point: 12, Hints: []int{1, 2, 4}}}
	f := fitter(t, &face.Private{StdVW: 45, StemSnapV: []float64{34, 36}}, 13, 203, Options{})
	f.Fit(d)
	requireNear(t, f.Choices().Stems, "the letter and its accent")
}

// An H with a breathing before it and an iota under it, evenly spaced 4.6 px apart: as a
// row with gaps of 3 px it would come out a pixel and a half too narrow.
func TestMarksAndTheirLetterAreNoRowThatMayBeSqueezed(t *testing.T) {
	hints := []face.Hint{upright(-111, -93), upright(123, 145), upright(357, 376), upright(583, 605)}
	d := boxes(hints, [4]int{-111, 560, -93, 694}, [4]int{123, 0, 145, 694}, [4]int{357, -200, 376, -60}, [4]int{583, 0, 605, 694})
	f := fitter(t, &face.Private{StdVW: 20}, 7, 203, Options{})
	f.Fit(d)
	requireNear(t, f.Choices().Stems, "no stem strays for counters nobody declared")
}

// The dots of a percent sign drawn clockwise, against the slash, inside its box: as holes
// of it they would be white.
func TestADotIsNoWhite(t *testing.T) {
	d := &face.Drawing{Hints: []face.Hint{upright(312, 449)}, Spans: []face.Span{{Hints: []int{0}}}}
	for _, p := range [][2]int{{50, 0}, {90, 0}, {500, 700}, {460, 700}, {311, 10}, {311, 140}, {449, 140}, {449, 10}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{3, 7}
	f := fitter(t, &face.Private{}, 8, 203, Options{})
	f.Fit(d)
	require.Len(t, f.Choices().Stems, 1)
}

// In an ideograph a maker declares bars of one group whose counters are not equal by design: nothing of it
// is to be carried away for the others' sake. Rows of equal ones inside it are rows.
func TestOfADeclaredGroupOnlyCountersThatAreAlikeBecomeEqual(t *testing.T) {
	for _, c := range []struct {
		reason string
		bars   []int // lower edges; each is 30 high
		equal  []int // counters from the lowest that must come out equal
	}{
		{"one counter three times as high as the other", []int{0, 529, 721}, nil},
		{"a row of three below a bar far off", []int{0, 130, 260, 700}, []int{0, 1}},
		{"a row of three above a bar far off", []int{0, 440, 570, 700}, []int{1, 2}},
		{"two rows that have a bar in common", []int{0, 100, 200, 460, 720}, nil},
	} {
		for pt := 6; pt <= 24; pt++ {
			var hints []face.Hint
			var drawn [][4]int
			var group []int
			for i, lo := range c.bars {
				hints = append(hints, bar(lo, lo+30))
				drawn = append(drawn, [4]int{0, lo, 500, lo + 30})
				group = append(group, i)
			}
			d := boxes(hints, drawn...)
			d.Counters = [][]int{group}
			f := fitter(t, &face.Private{}, pt, 300, Options{})
			f.Fit(d)
			given := f.Choices().Stems
			for _, s := range given {
				require.LessOrEqual(t, abs(s.GivenLo+s.GivenHi-s.AskLo-s.AskHi), 2*pixel, "%s, %d pt", c.reason, pt)
			}
			if c.equal != nil {
				i, k := c.equal[0], c.equal[1]
				require.Equal(t, given[i+1].GivenLo-given[i].GivenHi, given[k+1].GivenLo-given[k].GivenHi, "%s, %d pt", c.reason, pt)
			}
		}
	}
}
