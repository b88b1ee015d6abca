package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

func TestStemsGetTheWidthOfTheirKindInWholePixels(t *testing.T) {
	for _, c := range []struct {
		why          string
		pt, dpi      int
		std          float64
		snaps        []float64
		bold         bool
		width, wants int
	}{
		{"84 units at 8 pt and 203 dpi are 1.895 px: two pixels, wherever the stem stands", 8, 203, 0, nil, false, 84, 2},
		{"no stem is thinner than a pixel", 6, 203, 0, nil, false, 3, 1},
		{"half a pixel more rounds up", 12, 300, 0, nil, false, 30, 2},
		{"within 40/64 px of StdVW a stem is taken for it: 66 units are 1.49 px, 67 are 1.51", 8, 203, 66, nil, false, 67, 1},
		{"and one that differs more keeps its own width", 8, 203, 66, nil, false, 102, 2},
		{"where both are thin, the factor counts: 56 is no 83", 8, 203, 83, nil, false, 56, 1},
		{"StdVW goes before a nearer StemSnap", 8, 203, 66, []float64{80}, false, 76, 1},
		{"of several StemSnaps the nearest", 8, 600, 200, []float64{80, 90}, false, 88, 6},
		{"one that is a StemSnap is none of its neighbours: 88 units are 4.4 px", 12, 300, 0, []float64{88, 93}, false, 88, 4},
		{"nor for one that it would leave three quarters of a pixel short: 80 are 1.80 px", 8, 203, 66, nil, false, 80, 2},
		{"ForceBold: a stem of one pixel becomes two", 6, 203, 60, nil, true, 60, 2},
		{"but a hairline stays", 6, 203, 60, nil, true, 20, 1},
		{"and what is wider already stays", 12, 300, 60, nil, true, 60, 3},
	} {
		p := &face.Private{StdVW: c.std, StemSnapV: c.snaps, ForceBold: c.bold}
		w := newWidths(p, glyph.AxisX, at(t, c.pt, c.dpi))
		require.Equal(t, fixed.I(c.wants), w.fit(fu(c.width)), c.why)
	}
}

func TestForceBoldIsForUprightStemsAlone(t *testing.T) {
	w := newWidths(&face.Private{ForceBold: true, StdHW: 40}, glyph.AxisY, at(t, 6, 203))
	require.Equal(t, pixel, w.fit(fu(40)))
}

// A width never comes out narrower than a smaller one does.
func TestWidthsRiseWithTheOutlines(t *testing.T) {
	for pt := 6; pt <= 24; pt++ {
		for _, dpi := range []int{203, 300, 600} {
			w := newWidths(&face.Private{StdVW: 84, StemSnapV: []float64{76, 84, 102}}, glyph.AxisX, at(t, pt, dpi))
			last := pixel
			for v := 1; v < 300; v++ {
				got := w.fit(fu(v))
				require.GreaterOrEqual(t, got, last, "%d units, %d pt, %d dpi", v, pt, dpi)
				last = got
			}
		}
	}
}
