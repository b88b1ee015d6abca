package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// requireNear asks that no stem along X has an edge more than a pixel from where it
// would be if it were only scaled.
func requireNear(t *testing.T, stems []StemChoice, why string) {
	t.Helper()
	for _, s := range stems {
		if s.Axis == glyph.AxisX {
			require.LessOrEqual(t, abs(s.GivenLo-s.AskLo), pixel, "%s: left edge of the stem from %d", why, s.Lo.Round())
			require.LessOrEqual(t, abs(s.GivenHi-s.AskHi), pixel, "%s: right edge of the stem from %d", why, s.Lo.Round())
		}
	}
}

func TestNoUprightStemStraysForTheSakeOfAnotherOne(t *testing.T) {
	for _, c := range []struct {
		why     string
		p       *face.Private
		pt, dpi int
		hints   []face.Hint
		common  bool // the last two still share their edge
	}{
		{
			"a dot and a stem end at one edge; at their widths, 7 and 5 px, no place will do for both",
			&face.Private{StdVW: 161, StemSnapV: []float64{198}}, 8, 300, []face.Hint{upright(95, 285), upright(117, 285)}, false,
		},
		{
			"what follows a stem that follows another counts as well",
			&face.Private{StdVW: 51, StemSnapV: []float64{40}}, 8, 600, []face.Hint{upright(342, 382), upright(372, 422), upright(382, 422)}, true,
		},
	} {
		stems := chosenAt(t, c.p, c.pt, c.dpi, c.hints...)
		requireNear(t, stems, c.why)
		a, b := stems[len(stems)-2], stems[len(stems)-1]
		shared := a.Lo == b.Lo && a.GivenLo == b.GivenLo || a.Hi == b.Hi && a.GivenHi == b.GivenHi
		require.Equal(t, c.common, shared, c.why)
	}
}

// A dot and a stem that end at one edge, as above, drawn one over the other: each keeps its own
// width, though both have an edge where the other ends.
func TestAnEdgeStaysWithTheStemItStandsOn(t *testing.T) {
	hints := []face.Hint{upright(95, 285), upright(117, 285)}
	d := boxes(hints, rects(hints)...)
	d.Spans = []face.Span{{Hints: []int{0}}, {Point: 4, Hints: []int{1}}}
	o := fitter(t, &face.Private{StdVW: 161, StemSnapV: []float64{198}}, 8, 300, Options{}).Fit(d).Points
	require.Equal(t, 7*pixel, o[1].X-o[0].X, "190 units are 6.3 px, and taken for 198")
	require.Equal(t, 5*pixel, o[5].X-o[4].X, "168 units are 5.6 px, and taken for 161")
	require.NotEqual(t, o[1].X, o[5].X)
}

// The right side of a ring, 14.01 to 14.96 px, which is to be two wide, and the left one on
// 1 to 3: at 13 it strays by the 64th that places are rounded by, at 14 by more.
func TestOfTwoPlacesThatStrayTheOneThatHardlyDoesIsTheBetter(t *testing.T) {
	stems := chosenAt(t, &face.Private{StdVW: 68, ForceBold: true}, 6, 203, upright(68, 124), upright(828, 884))
	require.Equal(t, fixed.I(13), stems[1].GivenLo)
}

// The leg and the bowl of an R begin at one edge, and the leg is declared first.
func TestAStemGoesWhereItsAlternativesCanFollow(t *testing.T) {
	for x := range 60 {
		stems := chosenAt(t, &face.Private{StdVW: 114}, 17, 203, upright(300+x, 403+x), upright(300+x, 415+x))
		requireNear(t, stems, "an R")
		require.Equal(t, stems[0].GivenLo, stems[1].GivenLo, "at %d units", 300+x)
	}
}

// The first two of three stems 3.6 px wide, all taken for 4, stand best at 4 and 9, the
// counter between them kept open: that would leave the third 1.1 px too far out.
func TestARowOfStemsMovesBackTogether(t *testing.T) {
	p := &face.Private{StdVW: 114, StemSnapV: []float64{61, 62}}
	stems := chosenAt(t, p, 14, 300, upright(65, 126), upright(144, 206), upright(229, 291))
	requireNear(t, stems, "the row")
	for k := range 2 {
		require.GreaterOrEqual(t, stems[k+1].GivenLo-stems[k].GivenHi, pixel)
	}
}

// A letter with three stems on one foot, as a Russian sha: half of it is the mirror
// image of the other about the middle stem, but its outer stems are no serifs.
func TestOtherStemsAreNoSerifsOfTheMiddleOne(t *testing.T) {
	d := &face.Drawing{Hints: []face.Hint{upright(83, 163), upright(364, 443), upright(644, 724)}, Spans: []face.Span{{Hints: []int{0, 1, 2}}}}
	for _, p := range [][2]int{{83, 0}, {724, 0}, {724, 482}, {644, 482}, {644, 66}, {443, 66}, {443, 482}, {364, 482}, {364, 66}, {163, 66}, {163, 482}, {83, 482}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
	}
	d.Outline.Ends = []int{len(d.Outline.Points) - 1}
	for pt := 6; pt <= 24; pt++ {
		f := fitter(t, &face.Private{StdVW: 70}, pt, 203, Options{})
		o := f.Fit(d).Points
		require.LessOrEqual(t, f.x.off(o[0].X, fu(83)), pixel, "%d pt", pt)
		require.LessOrEqual(t, f.x.off(o[1].X, fu(724)), pixel, "%d pt", pt)
	}
}

// A round, the dot under it in its middle, and a horn: with equal counters the right
// side of the round would push the horn out of its place, by 1.1 px.
func TestCountersNobodyDeclaredGiveWayToTheBearing(t *testing.T) {
	hints := []face.Hint{upright(68, 89), upright(259, 301), upright(468, 489), upright(554, 573)}
	f := fitter(t, &face.Private{StdVW: 20}, 8, 203, Options{})
	o := f.Fit(boxes(hints, rects(hints)...)).Points
	require.LessOrEqual(t, f.x.off(o[0].X, fu(68)), pixel)
	require.LessOrEqual(t, f.x.off(o[13].X, fu(573)), pixel)
}
