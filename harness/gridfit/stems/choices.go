package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Choices are what the last Fit decided, in the order of declaration.
type Choices struct {
	Zones []ZoneChoice // those that held a stem, in the order of the dictionary
	Stems []StemChoice
	// Sideways is how far the glyph moved in its cell, in device pixels.
	Sideways fixed.Int26_6
	// Left are the declared stems that nothing was fitted by.
	Left []LeftOut
	// BlueScale is what the fitter goes by: the dictionary's, or less, as times the
	// tallest zone it must stay under a pixel (Type 1 book, 5.6).
	BlueScale float64
}

// LeftOut is a declared stem that nothing was fitted by, and why.
type LeftOut struct {
	Axis   glyph.Axis
	Ghost  face.Ghost
	Lo, Hi fixed.Int26_6 // font units
	Why    Reason
}

// Reason is why a declared stem was left out.
type Reason uint8

const (
	NotShown     Reason = iota // the drawing has no edges there
	White                      // the drawing has white there
	Serif                      // short, and with an edge of a stem: see axis.serif
	Crossed                    // a zone puts one of its edges on the other side of the stem
	Contradicted               // wherever it is in force it overlaps or reverses others
	OutOfRange                 // no font unit can be that large, or there are too many stems
)

var reasonNames = [...]string{"the drawing has no edges there", "it is the white between two stems", "it is short and shares an edge with a stem", "it contradicts a zone", "it contradicts other stems", "it is out of range"}

func (r Reason) String() string { return reasonNames[r] }

// ZoneChoice is an alignment zone at a size.
type ZoneChoice struct {
	Top        bool
	Flat, Over fixed.Int26_6 // font units
	Row        fixed.Int26_6 // device pixels, whole
	Family     bool          // the row is that of the family's zone
	Suppressed bool          // rounds stand on the row as well
}

// StemChoice is a stem as it was asked for and as it was given.
type StemChoice struct {
	Axis         glyph.Axis
	Ghost        face.Ghost
	Implied      bool          // not declared: an extreme of the outline in a zone, or a plain upright stem
	Lo, Hi       fixed.Int26_6 // font units
	AskLo, AskHi fixed.Int26_6 // device pixels: scaled only
	GivenLo      fixed.Int26_6 // device pixels, whole
	GivenHi      fixed.Int26_6
	TakenFor     fixed.Int26_6 // font units: the standard width, or its own
	By           Rule
	Zone         int // index into Choices.Zones, or -1
}

// Choices tells what the last Fit decided.
func (f *Fitter) Choices() Choices {
	c := Choices{Sideways: f.x.shift, BlueScale: float64(f.y.blueScale) / blueScaleOne}
	at := map[int]int{}
	for i := range f.y.zones {
		z := &f.y.zones[i]
		for k := range f.y.stems {
			if f.y.stems[k].zone == i {
				at[i] = len(c.Zones)
				c.Zones = append(c.Zones, ZoneChoice{z.top, z.flat, z.over, z.row, z.family, z.suppress})
				break
			}
		}
	}
	for _, a := range []*axis{&f.x, &f.y} {
		for i := range a.stems {
			s := &a.stems[i]
			switch {
			case s.used || s.implied && s.lo == s.hi:
				c.Stems = append(c.Stems, a.choice(s, at))
			case s.implied: // and not needed
			case s.crossed:
				c.Left = append(c.Left, LeftOut{a.axis, s.ghost, s.lo, s.hi, Crossed})
			default:
				c.Left = append(c.Left, LeftOut{a.axis, s.ghost, s.lo, s.hi, Contradicted})
			}
		}
		c.Left = append(c.Left, a.left...)
	}
	return c
}

func (a *axis) choice(s *stem, zones map[int]int) StemChoice {
	c := StemChoice{
		Axis: a.axis, Ghost: s.ghost, Implied: s.implied, Lo: s.lo, Hi: s.hi,
		AskLo: a.scale.of(s.lo), AskHi: a.scale.of(s.hi), GivenLo: s.low, GivenHi: s.high(),
		TakenFor: a.widths.snap(s.hi - s.lo), By: s.by, Zone: -1,
	}
	if at, held := zones[s.zone]; held {
		c.Zone = at
	}
	return c
}
