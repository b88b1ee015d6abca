package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// widths turns stem widths into whole pixels for one face, axis and size. The
// outcome depends on the outline's width alone.
type widths struct {
	scale    scale
	standard fixed.Int26_6   // StdHW or StdVW, 0 where there is none
	snaps    []fixed.Int26_6 // StemSnapH or StemSnapV
	bold     bool            // ForceBold, vertical stems
}

// A width is taken for a standard one where the two differ by less than 40/64
// pixel, as in FreeType's older engine (pshalgo.c), and by no more than the
// factor 1.3, as stems of one kind do in the Computer Modern programs at low
// resolution (The METAFONTbook, appendix B, lowres_fix; white_setup.mf); but not
// where it would come out three quarters of a pixel off what it is.
const (
	snapWithin = fixed.Int26_6(40) // device pixels
	snapTenths = 13
	snapOff    = fixed.Int26_6(48) // device pixels
)

// maxSnaps bounds StemSnap lists; the book allows 12 numbers.
const maxSnaps = 24

func newWidths(p *face.Private, a glyph.Axis, s scale) widths {
	w := widths{scale: s, standard: units(p.StdHW)}
	snaps := p.StemSnapH
	if a == glyph.AxisX {
		w.standard, snaps, w.bold = units(p.StdVW), p.StemSnapV, p.ForceBold
	}
	for _, v := range snaps[:min(len(snaps), maxSnaps)] {
		if u := units(v); u > 0 {
			w.snaps = append(w.snaps, u)
		}
	}
	return w
}

// snap is the standard width that a stem is taken for, else its own: first the
// dominant width, then the nearest of the others. So stems that differ by less
// than shows come out alike all over the strike.
func (w *widths) snap(width fixed.Int26_6) fixed.Int26_6 {
	if w.standard > 0 && w.near(width, w.standard) {
		return w.standard
	}
	best, found := width, false
	for _, v := range w.snaps {
		if w.near(width, v) && (!found || abs(v-width) < abs(best-width)) {
			best, found = v, true
		}
	}
	return best
}

func (w *widths) near(width, standard fixed.Int26_6) bool {
	return abs(w.scale.of(width-standard)) < snapWithin &&
		int64(max(width, standard))*10 <= int64(min(width, standard))*snapTenths &&
		abs(whole(w.scale.of(standard))-w.scale.of(width)) < snapOff
}

// fit is a stem's width in whole device pixels, at least one. ForceBold makes
// vertical stems of one pixel two pixels wide, hairlines (under half of StdVW)
// excepted, so that a bold face stays bold at small sizes (Type 1 book, 5.11; how
// thin a hairline is, the book leaves open).
func (w *widths) fit(width fixed.Int26_6) fixed.Int26_6 {
	px := max(pixel, whole(w.scale.of(w.snap(width))))
	if w.bold && px == pixel && 2*width >= w.standard {
		px = 2 * pixel
	}
	return px
}
