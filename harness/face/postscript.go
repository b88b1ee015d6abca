package face

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// PostScript is a face of cubic outlines with declared stems and alignment
// zones: Type 1, or CFF bare or in OpenType.
type PostScript interface {
	Face
	// Drawing runs a glyph's charstring. Its error names the glyph and the
	// offset in the charstring.
	Drawing(index int) (*Drawing, error)
	// Private is the hint dictionary that applies to a glyph: one per face, or
	// one per font dict of a CID-keyed face. It is shared; do not change it.
	Private(index int) *Private
}

// Private is a hint dictionary. Lengths are font units (Type 1 book, chapter 5;
// TN5176, section 15).
type Private struct {
	BlueValues       []float64 // pairs, bottom and top; the first is the baseline's
	OtherBlues       []float64 // pairs of bottom zones
	FamilyBlues      []float64
	FamilyOtherBlues []float64
	BlueScale        float64 // 0.039625 where the font gives none
	BlueShift        float64 // 7
	BlueFuzz         float64 // 1
	StdHW, StdVW     float64 // 0 where the font gives none
	StemSnapH        []float64
	StemSnapV        []float64
	ForceBold        bool
	LanguageGroup    int
	ExpansionFactor  float64 // 0.06
}

// Drawing is what a charstring drew and declared. Coordinates are 26.6 font
// units, Y up.
type Drawing struct {
	Advance fixed.Int26_6
	Outline glyph.Outline
	Hints   []Hint // every stem declared, in the order of declaration
	// Spans tell which hints are in force from which point on, in rising order
	// of Point; the first begins at point 0. Points of one span lie between its
	// Point and the next one's.
	Spans []Span
	// Counters are groups of hints (indices into Hints, sorted by position)
	// whose gaps are to come out equal: cntrmask, OtherSubrs 12 and 13, hstem3
	// and vstem3.
	Counters [][]int
	Flexes   []Flex
}

// Hint is a declared stem in 26.6 font units. A ghost hint has one edge: Lo
// (declared with width -21: a bottom edge) or Hi (width -20: a top edge), Lo and
// Hi being the same number.
type Hint struct {
	Axis   glyph.Axis
	Lo, Hi fixed.Int26_6
	Ghost  Ghost
}

// Ghost says which one edge of a hint is real.
type Ghost uint8

const (
	NoGhost     Ghost = iota // a stem with both edges
	GhostBottom              // width -21
	GhostTop                 // width -20
)

// Span is a stretch of points and the hints in force there, as indices into
// Drawing.Hints.
type Span struct {
	Point int
	Hints []int
}

// Flex is a pair of curves that is to be drawn straight where its height is
// small (Type 1 book 8.3; TN5177, flex operators).
type Flex struct {
	// First is the index of its first control point; six control and on-curve
	// points follow from there. Where it ends its contour, the sixth may be the
	// contour's first point, which no contour repeats.
	First int
	Axis  glyph.Axis    // along which its height is measured
	Depth fixed.Int26_6 // threshold in hundredths of a device pixel, as 26.6
}

// FlexPoints gives the indices of the point where a flex begins and of its six
// points. It is false where the outline does not hold them.
func (d *Drawing) FlexPoints(x Flex) (at [7]int, ok bool) {
	first := 0
	for _, end := range d.Outline.Ends {
		if x.First > end {
			first = end + 1
			continue
		}
		for k := range at {
			at[k] = x.First - 1 + k
		}
		if at[6] == end+1 {
			at[6] = first
		}
		return at, first >= 0 && x.First > first && at[5] <= end && end < len(d.Outline.Points)
	}
	return at, false
}
