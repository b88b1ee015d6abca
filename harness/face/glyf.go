package face

import (
	"encoding/binary"
	"fmt"
	"slices"

	"smokeproof/harness/glyph"
)

// F2Dot14 is a signed fixed-point number with 14 fraction bits: 0x7000 is 1.75.
type F2Dot14 int16

// Glyph is one entry of glyf as the file has it: points or components.
type Glyph struct {
	XMin, YMin, XMax, YMax glyph.FUnit
	X, Y                   []glyph.FUnit // points, Y up; none for a composite or blank glyph
	On                     []bool        // which of them are on the curve
	Ends                   []int         // last point of each contour
	Components             []Component
	Instructions           []byte

	flags []byte // by point, while the glyph is read
}

// Component places another glyph inside a composite.
type Component struct {
	Index          int
	Flags          uint16
	Arg1, Arg2     int // offsets, signed, where ArgsAreXY is set; else point numbers
	XX, XY, YX, YY F2Dot14
}

// Component flags (OpenType, "glyf", component flags).
const (
	ArgsAreWords     uint16 = 1 << 0
	ArgsAreXY        uint16 = 1 << 1
	RoundXYToGrid    uint16 = 1 << 2
	HaveScale        uint16 = 1 << 3
	MoreComponents   uint16 = 1 << 5
	HaveXYScale      uint16 = 1 << 6
	HaveTwoByTwo     uint16 = 1 << 7
	HaveInstructions uint16 = 1 << 8
	UseMyMetrics     uint16 = 1 << 9
	OverlapCompound  uint16 = 1 << 10
	ScaledOffset     uint16 = 1 << 11
	UnscaledOffset   uint16 = 1 << 12
)

// Glyph reads one glyph.
func (f *TrueType) Glyph(index int) (*Glyph, error) {
	g := &Glyph{}
	return g, f.ReadGlyph(g, index)
}

// IsComposite says that a glyph is made of others: its number of contours is negative.
func (f *TrueType) IsComposite(index int) bool {
	b, _ := f.glyphBytes(index)
	return len(b) > 1 && b[0]&0x80 != 0
}

// ReadGlyph reads one glyph into g, whose memory it uses again. A blank glyph has
// neither points nor components, and no box.
func (f *TrueType) ReadGlyph(g *Glyph, index int) error {
	g.blank()
	b, err := f.glyphBytes(index)
	if err != nil || len(b) == 0 {
		return err
	}
	r := reader{b: b}
	n := int(int16(r.u16()))
	g.XMin, g.YMin, g.XMax, g.YMax = r.i16(), r.i16(), r.i16(), r.i16()
	switch {
	case n > 0:
		g.simple(&r, n)
	case n < 0:
		g.composite(&r)
	case !r.short:
		g.blank()
	}
	if r.short {
		return fmt.Errorf("%w: glyph %d: its data ends at byte %d in the middle of a field; the file is damaged", ErrInvalid, index, len(b))
	}
	if r.bad != "" {
		return fmt.Errorf("%w: glyph %d: %s at byte %d; the file is damaged", ErrInvalid, index, r.bad, r.at)
	}
	return nil
}

func (g *Glyph) blank() {
	*g = Glyph{X: g.X[:0], Y: g.Y[:0], On: g.On[:0], Ends: g.Ends[:0], Components: g.Components[:0], flags: g.flags}
}

// glyphBytes finds a glyph through loca. Where loca is damaged it does as FreeType
// does (ttpload.c, tt_face_get_location), as shipped fonts need: a glyph that lies
// outside glyf is blank, the last one is cut at the end of glyf, and one that ends
// before it begins reaches to the end.
func (f *TrueType) glyphBytes(index int) ([]byte, error) {
	if index < 0 || index >= f.maxp.NumGlyphs {
		return nil, fmt.Errorf("%w: glyph %d: the face has %d glyphs", ErrInvalid, index, f.maxp.NumGlyphs)
	}
	loca, glyf := f.loca, f.glyf
	place := func(i int) int {
		if f.longLoca {
			if 4*i+4 > len(loca) {
				return len(glyf)
			}
			return int(binary.BigEndian.Uint32(loca[4*i:]))
		}
		if 2*i+2 > len(loca) {
			return len(glyf)
		}
		return 2 * int(binary.BigEndian.Uint16(loca[2*i:]))
	}
	from, to := place(index), place(index+1)
	switch {
	case from > len(glyf), to > len(glyf) && index != f.maxp.NumGlyphs-1:
		return nil, nil
	case to > len(glyf), to < from:
		to = len(glyf)
	}
	return glyf[from:to], nil
}

// Point flags (OpenType, "glyf", simple glyph flags).
const (
	flagOn     = 1 << 0
	flagXShort = 1 << 1
	flagYShort = 1 << 2
	flagRepeat = 1 << 3
	flagXSame  = 1 << 4
	flagYSame  = 1 << 5
)

func (g *Glyph) simple(r *reader, contours int) {
	last := -1
	ends := r.take(2 * contours)
	for ; len(ends) > 0; ends = ends[2:] {
		end := int(binary.BigEndian.Uint16(ends))
		if end < last {
			r.fail("contour ends out of order")
			return
		}
		g.Ends = append(g.Ends, end)
		last = end
	}
	g.Instructions = r.take(int(r.u16()))
	n := last + 1
	if r.short || n > len(r.b)*256 {
		r.short = true
		return
	}
	g.readFlags(r, n)
	if r.short {
		return
	}
	g.X, g.Y = slices.Grow(g.X, n)[:n], slices.Grow(g.Y, n)[:n]
	r.deltas(g.X, g.flags, &xDeltas)
	r.deltas(g.Y, g.flags, &yDeltas)
}

func (g *Glyph) readFlags(r *reader, n int) {
	g.On, g.flags = slices.Grow(g.On, n)[:n], slices.Grow(g.flags[:0], n)[:n]
	b, at := r.b, r.at
	for i := 0; i < n; {
		if at >= len(b) {
			r.short = true
			return
		}
		fl := b[at]
		at++
		g.flags[i], g.On[i] = fl, fl&flagOn != 0
		i++
		if fl&flagRepeat == 0 {
			continue
		}
		if at >= len(b) {
			r.short = true
			return
		}
		for end := min(i+int(b[at]), n); i < end; i++ {
			g.flags[i], g.On[i] = fl, fl&flagOn != 0
		}
		at++
	}
	r.at = at
}

// delta is how a coordinate is written, as the difference from the point before: in how
// many bytes, how many bits of the next two they are not, and whether they are to be
// taken away.
type delta struct {
	size   uint8
	unused uint8
	minus  int16 // -1, or 0
}

// The deltas by a point's flags.
var xDeltas, yDeltas = deltasBy(flagXShort, flagXSame), deltasBy(flagYShort, flagYSame)

func deltasBy(short, same int) (t [256]delta) {
	for flags := range t {
		switch flags & (short | same) {
		case short:
			t[flags] = delta{size: 1, unused: 8, minus: -1}
		case short | same:
			t[flags] = delta{size: 1, unused: 8}
		case same:
			t[flags] = delta{unused: 16}
		default:
			t[flags] = delta{size: 2}
		}
	}
	return t
}

// deltas reads one coordinate of every point. How a point has it is chance, so nothing
// here jumps by it.
func (r *reader) deltas(out []glyph.FUnit, flags []byte, by *[256]delta) {
	b, at, v := r.b, r.at, glyph.FUnit(0)
	out = out[:len(flags)]
	for i, fl := range flags {
		d := &by[fl]
		two := uint32(0)
		if at+1 < len(b) {
			two = uint32(binary.BigEndian.Uint16(b[at:]))
		} else if at < len(b) {
			two = uint32(b[at]) << 8
		}
		v += glyph.FUnit(int16(two>>(d.unused&31)) ^ d.minus - d.minus)
		out[i] = v
		at += int(d.size)
	}
	if at > len(b) {
		r.short = true
		return
	}
	r.at = at
}

func (g *Glyph) composite(r *reader) {
	const one F2Dot14 = 1 << 14
	flags := MoreComponents
	for flags&MoreComponents != 0 && !r.short {
		flags = r.u16()
		c := Component{Flags: flags, Index: int(r.u16()), XX: one, YY: one}
		switch {
		case flags&ArgsAreWords != 0 && flags&ArgsAreXY != 0:
			c.Arg1, c.Arg2 = int(r.i16()), int(r.i16())
		case flags&ArgsAreWords != 0:
			c.Arg1, c.Arg2 = int(r.u16()), int(r.u16())
		case flags&ArgsAreXY != 0:
			c.Arg1, c.Arg2 = int(int8(r.u8())), int(int8(r.u8()))
		default:
			c.Arg1, c.Arg2 = int(r.u8()), int(r.u8())
		}
		switch {
		case flags&HaveScale != 0:
			c.XX = F2Dot14(r.u16())
			c.YY = c.XX
		case flags&HaveXYScale != 0:
			c.XX, c.YY = F2Dot14(r.u16()), F2Dot14(r.u16())
		case flags&HaveTwoByTwo != 0:
			c.XX, c.YX, c.XY, c.YY = F2Dot14(r.u16()), F2Dot14(r.u16()), F2Dot14(r.u16()), F2Dot14(r.u16())
		}
		g.Components = append(g.Components, c)
		if flags&HaveInstructions != 0 && flags&MoreComponents == 0 {
			g.Instructions = r.take(int(r.u16()))
		}
	}
}

// reader reads big-endian fields; past the end it gives zeros and remembers.
type reader struct {
	b     []byte
	at    int
	short bool
	bad   string
}

func (r *reader) take(n int) []byte {
	if n > len(r.b)-r.at {
		r.short = true
		r.at = len(r.b)
		return nil
	}
	r.at += n
	return r.b[r.at-n : r.at : r.at]
}

func (r *reader) u8() byte {
	if r.at >= len(r.b) {
		r.short = true
		return 0
	}
	r.at++
	return r.b[r.at-1]
}

func (r *reader) u16() uint16 {
	if b := r.take(2); b != nil {
		return binary.BigEndian.Uint16(b)
	}
	return 0
}

func (r *reader) i16() glyph.FUnit { return glyph.FUnit(int16(r.u16())) }

func (r *reader) fail(what string) {
	if r.bad == "" {
		r.bad = what
	}
}
