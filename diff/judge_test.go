package diff_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// A stroke that leans is measured across itself, and weighed by the oblique effect:
// at 300 dpi a pixel is 0.73′, which leaves 0.62′ at 20° and 0.4′ at 45°, either side of
// the half minute from which a stroke's weight is major.
func TestTheMoreAStrokeLeansTheLessItsWeightCounts(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		class   diff.Severity
	}{{0, diff.Major}, {20, diff.Major}, {45, diff.Minor}} {
		leaning := &glyph.Cell{Advance: 60, Bitmap: glyph.NewBitmap(0, 0, 52, 40, 1)}
		for y := range 40 {
			left := int(math.Round(float64(y) * math.Tan(c.degrees*math.Pi/180)))
			for x := range 8 {
				leaning.Bitmap.Set(left+x, y, 1)
			}
		}
		leaning.Bitmap = leaning.Bitmap.Tight()
		r := at(300).Compare(diff.Pair{Golden: leaning, Candidate: smeared(leaning)})
		require.Len(t, r.Findings, 1, "%v°", c.degrees)
		require.Equal(t, diff.StemWeight, r.Findings[0].Kind, "%v°", c.degrees)
		require.InDelta(t, 1, r.Findings[0].MeasurePx, 0.01, "%v°", c.degrees)
		require.Equal(t, c.class, r.Findings[0].Severity, "%v°", c.degrees)
	}
}

func TestFaultsHaveTheirNameAndClass(t *testing.T) {
	h, e, i, x, o := drawn(letterH), drawn(letterE), drawn(letterI), drawn(letterX), drawn(letterO)
	dotted, slanted, hyphen := drawn(letterDotted), drawn(letterSlanted), drawn(letterHyphen)
	wider := *h
	wider.Advance++
	ring := box(box(&glyph.Cell{Advance: 16}, 1, 0, 0, 16, 16), 0, 2, 2, 14, 14)
	two := box(box(drawn(letterH), 1, 2, 0, 3, 12), 1, 7, 0, 8, 12)
	for _, c := range []struct {
		name, reason      string
		golden, candidate *glyph.Cell
		kind              diff.Kind
		least, most       diff.Severity
	}{
		{"left stem wider", "stems equal in the golden must stay so", h, box(h, 1, 2, 0, 3, 12), diff.StemUneven, diff.Major, diff.Critical},
		{"right stem narrower", "the same at the other side, the other way", h, box(h, 0, 9, 0, 10, 12), diff.StemUneven, diff.Major, diff.Critical},
		{"both stems wider", "equal still, but bolder", h, two, diff.StemWeight, diff.Major, diff.Critical},
		{"only stem wider", "no other stem to differ from", i, box(i, 1, 5, 1, 6, 10), diff.StemWeight, diff.Major, diff.Critical},
		{"stem lost", "a stem gone is not an edge", h, box(h, 0, 8, 0, 10, 12), diff.StemLost, diff.Critical, diff.Critical},
		{"bar lost", "a crossbar must never round to nothing", h, box(h, 0, 2, 6, 8, 7), diff.BarLost, diff.Critical, diff.Critical},
		{"bar of e lost", "opens the eye, yet it is the bar that is gone", e, box(e, 0, 2, 5, 8, 7), diff.BarLost, diff.Critical, diff.Critical},
		{"bar thicker", "a row more over the whole bar", h, box(h, 1, 2, 7, 8, 8), diff.BarWeight, diff.Major, diff.Critical},
		{"stem broken", "two rows out of a stem part it", i, box(i, 0, 3, 5, 5, 7), diff.Break, diff.Critical, diff.Critical},
		{"ring broken", "o becomes c", o, box(o, 0, 10, 5, 12, 7), diff.Break, diff.Critical, diff.Critical},
		{"stems bridged", "ink across the white between stems", h, box(h, 1, 2, 2, 8, 3), diff.Bridge, diff.Critical, diff.Critical},
		{"eye of e closed", "white gone from a counter", e, box(e, 1, 2, 7, 8, 9), diff.CounterClosed, diff.Critical, diff.Critical},
		{"a row shorter", "the height of both stems fell", h, box(h, 0, 0, 11, 10, 12), diff.Height, diff.Major, diff.Critical},
		{"a row higher", "the height rose", h, box(box(h, 1, 0, 12, 2, 13), 1, 8, 12, 10, 13), diff.Height, diff.Major, diff.Critical},
		{"pimple on o", "a row beyond a round top", o, box(o, 1, 5, 12, 7, 13), diff.Overshoot, diff.Minor, diff.Major},
		{"moved up", "off the baseline", h, moved(h, 0, 1), diff.Moved, diff.Major, diff.Major},
		{"moved right", "the shape is right, the bearing is not", h, moved(h, 1, 0), diff.Moved, diff.Minor, diff.Minor},
		{"advance", "bitmaps alike", h, &wider, diff.Spacing, diff.Minor, diff.Major},
		{"serif cut", "one half of a foot that was even", i, box(i, 0, 1, 0, 2, 1), diff.SerifUneven, diff.Major, diff.Major},
		{"stray on a stem", "noticed at 300 dpi on inspection", h, box(h, 1, 2, 2, 3, 3), diff.Edge, diff.Minor, diff.Minor},
		{"stray on a diagonal", "the stairs of a diagonal hide it", x, box(x, 1, 3, 9, 4, 10), diff.Diagonal, diff.Trace, diff.Minor},
		{"pixel on a curve", "one pixel of a round", o, box(o, 1, 1, 10, 2, 11), diff.Round, diff.Trace, diff.Minor},
		{"dot lost", "an i without its dot is another letter", dotted, box(dotted, 0, 0, 9, 3, 12), diff.Missing, diff.Critical, diff.Critical},
		{"dot moved", "a part beside the rest of its letter", dotted, box(box(dotted, 0, 0, 9, 1, 12), 1, 3, 9, 4, 12), diff.Moved, diff.Minor, diff.Minor},
		{"dot on its stem", "it moved and runs into the letter", dotted, box(box(dotted, 0, 0, 10, 3, 12), 1, 0, 7, 3, 9), diff.Bridge, diff.Critical, diff.Critical},
		{"dot wider", "a heavier dot", dotted, box(dotted, 1, 3, 9, 4, 12), diff.StemWeight, diff.Major, diff.Major},
		{"speck", "ink in the white, touching nothing", h, box(h, 1, 5, 2, 6, 3), diff.Extra, diff.Major, diff.Major},
		{"half a counter", "the lower half of the white in o", o, box(o, 1, 3, 2, 9, 6), diff.CounterClosed, diff.Critical, diff.Critical},
		{"knob in a counter", "deep enough, but most of the white is left", ring, box(ring, 1, 2, 6, 5, 9), diff.Edge, diff.Major, diff.Major},
		{"slanted stem wider", "each row of an italic stem a pixel more", slanted, smeared(slanted), diff.StemWeight, diff.Major, diff.Major},
		{"hyphen shorter", "a bar ends two pixels early", hyphen, box(hyphen, 0, 8, 0, 10, 2), diff.Edge, diff.Major, diff.Major},
		{"all gone", "nothing is drawn", h, &glyph.Cell{Advance: 10}, diff.Missing, diff.Critical, diff.Critical},
		{"out of nothing", "nothing was approved", &glyph.Cell{Advance: 10}, h, diff.Extra, diff.Critical, diff.Critical},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := compare(at(300), c.golden, c.candidate)
			require.NotEmpty(t, r.Findings, c.reason)
			f := r.Findings[0]
			require.Equal(t, c.kind, f.Kind, "%s: %+v", c.reason, r.Findings)
			require.GreaterOrEqual(t, f.Severity, c.least, c.reason)
			require.LessOrEqual(t, f.Severity, c.most, c.reason)
			require.NotEmpty(t, f.Text)
			require.Greater(t, r.Score, 0.0)
		})
	}
}
