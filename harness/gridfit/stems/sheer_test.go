package stems

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

func TestAnUprightHintIsAStemOnlyWhereTheDrawingShowsIt(t *testing.T) {
	stroke := func(points ...[2]int) *face.Drawing {
		d := &face.Drawing{Hints: []face.Hint{upright(100, 184)}, Spans: []face.Span{{Hints: []int{0}}}}
		for _, p := range points {
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fu(p[0]), Y: fu(p[1])})
		}
		d.Outline.Ends = []int{len(points) - 1}
		return d
	}
	for _, c := range []struct {
		why    string
		d      *face.Drawing
		fitted bool
	}{
		{"both edges are upright", stroke([2]int{100, 0}, [2]int{184, 0}, [2]int{184, 600}, [2]int{100, 600}), true},
		{"edges two units off are meant", stroke([2]int{98, 0}, [2]int{186, 0}, [2]int{186, 600}, [2]int{98, 600}), true},
		{"a slanted stroke has none", stroke([2]int{100, 0}, [2]int{184, 0}, [2]int{284, 600}, [2]int{200, 600}), false},
		{"one edge makes no stem", stroke([2]int{100, 0}, [2]int{184, 0}, [2]int{284, 600}, [2]int{100, 600}), false},
		{"a tapered stroke about the hint's own middle", stroke([2]int{100, 0}, [2]int{184, 0}, [2]int{204, 600}, [2]int{80, 600}), true},
	} {
		f := fitter(t, &face.Private{}, 8, 203, Options{})
		f.Fit(c.d)
		require.Len(t, f.Choices().Stems, map[bool]int{true: 1, false: 0}[c.fitted], c.why)
	}
}

// The four bars of an H with a stroke, of which the upper three are nearly
// evenly spaced: equal counters would lift the crossbar by more than a pixel.
func TestImpliedCountersLetNoStemStray(t *testing.T) {
	hints := []face.Hint{bar(0, 31), bar(340, 371), bar(498, 528), bar(652, 683)}
	p := &face.Private{BlueValues: []float64{-22, 0, 683, 705}, BlueScale: 0.04379}
	f := fitter(t, p, 8, 203, Options{})
	f.Fit(boxes(hints, [4]int{0, 0, 500, 31}, [4]int{0, 340, 500, 371}, [4]int{0, 498, 500, 528}, [4]int{0, 652, 500, 683}))
	for _, s := range f.Choices().Stems {
		require.LessOrEqual(t, abs(s.GivenLo-s.AskLo), pixel, "bar from %d", s.Lo.Round())
		require.LessOrEqual(t, abs(s.GivenHi-s.AskHi), pixel, "bar from %d", s.Lo.Round())
	}
}

// A stem with serifs, and beside it a part drawn later under a hint that begins
// where the stem ends, as in many an R.
func TestAHintOfAnotherPartDoesNotPullASerif(t *testing.T) {
	for pt := 6; pt <= 24; pt++ {
		d := boxes([]face.Hint{upright(173, 269), upright(269, 365)}, [4]int{173, 0, 269, 680}, [4]int{269, 330, 365, 600})
		stem := d.Outline.Points
		serifs := []glyph.Point{{X: fu(173), Y: fu(40)}, {X: fu(67), Y: fu(40)}, {X: fu(67)}, {X: fu(375)}, {X: fu(375), Y: fu(40)}, {X: fu(269), Y: fu(40)}}
		d.Outline.Points = append(append(append([]glyph.Point{}, serifs...), stem[2:4]...), stem[4:]...)
		d.Outline.Ends = []int{7, 11}
		d.Spans = []face.Span{{Hints: []int{0}}, {Point: 8, Hints: []int{1}}}
		f := fitter(t, &face.Private{}, pt, 300, Options{})
		p := f.Fit(d).Points
		require.InDelta(t, int(p[0].X-p[1].X), int(p[4].X-p[5].X), 1, "%d pt", pt)
	}
}

// The foot of a two: ink from 0 to 25, and a tick at its end up to 48. A hint from 25 to
// 48 names what is white over the foot.
func TestABarThatIsWhiteInTheDrawingIsNone(t *testing.T) {
	p := fitter(t, dictionary(), 10, 203, Options{})
	p.Fit(boxes([]face.Hint{bar(25, 48)}, [4]int{0, 0, 300, 25}, [4]int{300, 0, 320, 48}))
	require.Equal(t, []LeftOut{{glyph.AxisY, face.NoGhost, fu(25), fu(48), NotShown}}, p.Choices().Left)
	p.Fit(boxes([]face.Hint{bar(25, 48)}, [4]int{0, 25, 300, 48}))
	require.Empty(t, p.Choices().Left)
}
