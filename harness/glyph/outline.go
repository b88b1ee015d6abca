package glyph

import "golang.org/x/image/math/fixed"

// Kind says what a point of an outline is.
type Kind uint8

const (
	OnCurve Kind = iota
	Quad         // control point of a quadratic; two in a row imply an on-curve point half-way
	Cubic        // control point of a cubic; they come in pairs
)

// Point is a point of an outline, Y growing up.
type Point struct {
	X, Y fixed.Int26_6
	Kind Kind
}

// Outline is a set of closed contours. Its unit is that of its holder: 26.6
// device pixels once it has been scaled, 26.6 font units inside a Design.
// Y grows up. Ends holds the index of the last point of each contour.
type Outline struct {
	Points []Point
	Ends   []int

	// Modes is nil, or for each contour the dropout mode from it on: the parts of
	// a composite may ask for different ones. It overrides the glyph's mode.
	Modes []Dropout

	// Recurs is nil, or for each contour a number: in outlines of one face at one size, contours
	// of one number are probably alike but for a move. 0 tells nothing. No bitmap hangs on it.
	Recurs []int32

	// Tips are points that must show on the row they stand on, however thin the outline
	// is there: dropout control sees to it.
	Tips []Tip
}

// Tip is a point of an outline at which ink ends going up, or else going down, on the
// boundary of a row of pixels.
type Tip struct {
	Point int
	Top   bool
}

// Dropout is the TrueType dropout mode: the argument of SCANTYPE (0 to 7), or
// DropoutOff where SCANCTRL leaves dropout control off.
type Dropout int8

// DropoutOff fills by rules 1 and 2 alone. DropoutType1 is what FreeType uses
// for outlines that carry no mode: simple, stubs excluded (ftraster.c). DropoutSmart
// leaves stubs out as well, and of two pixels turns on the one that a thin stroke is
// nearer to. DropoutKeep, among an outline's modes, goes on in that of the contour
// before.
const (
	DropoutOff   Dropout = -1
	DropoutKeep  Dropout = -2
	DropoutType1 Dropout = 1
	DropoutSmart Dropout = 5
)

// Axis tells which way a hint acts.
type Axis uint8

const (
	AxisX Axis = iota // positions along X: vertical stems
	AxisY             // positions along Y: horizontal stems (bars) and zones
)

// Stem is a declared stem: a pair of opposite edges, in font units, Lo < Hi
// but for ghost hints, where one edge alone counts.
type Stem struct {
	Axis   Axis
	Lo, Hi FUnit
	Ghost  bool
}

// Zone is an alignment row: flat features meet Flat, rounds reach as far as
// Over, in font units. Top is true for zones at the top of letters (x-height,
// cap height) and false for the baseline and descender.
type Zone struct {
	Name       string // "baseline", "x-height", "cap-height", "ascender", "descender", "figure-height"; "" if unknown
	Flat, Over FUnit
	Top        bool
}

// Design is what the face's maker drew for one glyph, before any hint: what
// judgement needs to know of a font, as plain values.
type Design struct {
	UPEM    int
	Advance FUnit
	Outline Outline // in 26.6 font units, Y up
	Stems   []Stem  // as declared; nil where the format declares none
	Zones   []Zone  // of the whole face
}

// Scale maps a length of 26.6 font units to 26.6 pixels at a size, rounding
// half away from zero.
func Scale(v fixed.Int26_6, ppem fixed.Int26_6, upem int) fixed.Int26_6 {
	p := int64(v) * int64(ppem)
	d := int64(upem) * 64
	if p < 0 {
		return fixed.Int26_6(-((-p + d/2) / d))
	}
	return fixed.Int26_6((p + d/2) / d)
}

// Scaled returns the unhinted outline in 26.6 pixels.
func (d *Design) Scaled(p PPEM) Outline {
	o := Outline{Points: make([]Point, len(d.Outline.Points)), Ends: d.Outline.Ends}
	for i, q := range d.Outline.Points {
		o.Points[i] = Point{Scale(q.X, p.X, d.UPEM), Scale(q.Y, p.Y, d.UPEM), q.Kind}
	}
	return o
}
