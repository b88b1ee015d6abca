package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

const pixel fixed.Int26_6 = 64

// scale takes 26.6 font units to 26.6 device pixels along one axis.
type scale struct {
	ppem fixed.Int26_6
	upem int
}

func (s scale) of(v fixed.Int26_6) fixed.Int26_6 { return glyph.Scale(v, s.ppem, s.upem) }

// whole rounds to a pixel boundary, half up.
func whole(v fixed.Int26_6) fixed.Int26_6 { return (v + pixel/2) &^ (pixel - 1) }

func abs(v fixed.Int26_6) fixed.Int26_6 { return max(v, -v) }

// units turns a length of a hint dictionary into 26.6 font units. What no font
// unit can be, NaN among it, becomes 0.
func units(v float64) fixed.Int26_6 {
	if !(v > -maxUnits && v < maxUnits) {
		return 0
	}
	if v < 0 {
		return -units(-v)
	}
	return fixed.Int26_6(v*64 + 0.5)
}

// maxUnits bounds what is taken for a coordinate, in font units: an em has at
// most 16384 (OpenType, "head").
const maxUnits = 1 << 17
