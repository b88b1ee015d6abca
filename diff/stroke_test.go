package diff

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestALimbIsDrawnForTheNearestStrokeBesideIt(t *testing.T) {
	l := limb{box: box{4, 0, 6, 20}, own: 20} // its middle at 5
	stem := func(lo, hi, from, to float64) stroke { return stroke{lo: lo, hi: hi, from: from, to: to} }
	for _, c := range []struct {
		why     string
		strokes []stroke
		best    int // -1: none
	}{
		{"the nearest middle", []stroke{stem(4.5, 6.5, 0, 20), stem(4.2, 6.2, 0, 20), stem(3, 5, 0, 20)}, 1},
		{"a bar is none of a stem", []stroke{{bar: true, lo: 4, hi: 6, to: 20}}, -1},
		{"not beside it", []stroke{stem(4, 6, 20, 40)}, -1},
		{"beside it for less than a limb's least length", []stroke{stem(4, 6, 21-minLimb, 40)}, -1},
		{"further than hints carry a stem", []stroke{stem(4+strayPx, 6+strayPx, 0, 20)}, -1},
	} {
		d := &outline{strokes: c.strokes}
		got := d.strokeOf(l)
		if c.best < 0 {
			require.Nil(t, got, c.why)
		} else {
			require.Same(t, &d.strokes[c.best], got, c.why)
		}
	}
}

func TestAStrokeIsAForeEdgeAndTheNearestOppositeOne(t *testing.T) {
	edge := func(fore bool, at, lo, hi float64) outlineEdge {
		return outlineEdge{fore: fore, at: at, lo: lo, hi: hi}
	}
	left := edge(true, 2, 0, 20)
	for _, c := range []struct {
		why   string
		other []outlineEdge
		hi    float64 // 0: none
	}{
		{"a stem", []outlineEdge{edge(false, 4, 0, 20)}, 4},
		{"the nearer of two", []outlineEdge{edge(false, 9, 0, 20), edge(false, 4, 0, 20)}, 4},
		{"white lies between", []outlineEdge{edge(true, 4, 0, 20)}, 0},
		{"ink lies on the other side", []outlineEdge{edge(false, 1, 0, 20)}, 0},
		{"a lying edge", []outlineEdge{{bar: true, at: 4, hi: 20}}, 0},
		{"thicker than long", []outlineEdge{edge(false, 30, 0, 20)}, 0},
		{"side by side too briefly", []outlineEdge{edge(false, 2.5, 18.5, 40)}, 0},
	} {
		s, ok := left.stroke(c.other)
		require.Equal(t, c.hi != 0, ok, c.why)
		require.Equal(t, c.hi, s.hi, c.why)
	}
}
