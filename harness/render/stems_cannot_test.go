package render

import (
	"math"
	"slices"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// barrier is why a property cannot hold somewhere. It is found in the drawing, the
// declarations and the size, never in what a renderer made of them.
type barrier int

const (
	inkOnTheRow barrier = iota // other ink touches a row or comes nearer than half a pixel
	twoZones                   // zones overlap, and ask for two rows
	zeroWidth                  // a declared stem has both edges in one place
	oddAndEven                 // stems of odd and of even width share the axis of the glyph
	barriers
)

var barrierNames = [barriers]string{
	"rows that other ink touches, so that there is no edge to see",
	"edges in two zones at once, which ask for two rows",
	"declared stems of zero width",
	"mirrored glyphs with stems of odd and of even width on one axis",
}

// contested says that the zones which hold an edge ask for different rows.
func contested(holders []int, zones []band, scale float64) bool {
	for _, z := range holders {
		if math.Round(zones[z].flat*scale) != math.Round(zones[holders[0]].flat*scale) {
			return true
		}
	}
	return false
}

// oddAndEven says that declared stems on the axis of the glyph are, rounded to
// whole pixels, of odd and of even width: the one is mirrored about the middle of
// a pixel, the other about the edge of one.
func (f *features) oddAndEven(p *face.Private, scale float64) bool {
	var odd, even bool
	for i := range f.stems {
		s := &f.stems[i]
		if s.axis != glyph.AxisX || s.lo+s.hi != f.axis {
			continue
		}
		if px, sure := wholeWidth(s.hi-s.lo, snapsOf(p, s.axis), scale); sure {
			odd, even = odd || px%2 == 1, even || px%2 == 0
		}
	}
	return odd && even
}

// wholeWidth is a stem's width in whole pixels, at least one, going by its own
// width or by the StemSnap value it has; not sure where it is nearly half-way.
func wholeWidth(units float64, snaps []float64, scale float64) (px int, sure bool) {
	at := slices.IndexFunc(snaps, func(v float64) bool { return math.Abs(v-units) <= 0.5 })
	if at >= 0 {
		units = snaps[at]
	}
	w := units * scale
	const nearly = 1.0 / 8
	return int(max(1, math.Round(w))), math.Abs(w-math.Floor(w)-0.5) > nearly || w < 1
}
