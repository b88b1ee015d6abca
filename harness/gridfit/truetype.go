package gridfit

import (
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/bytecode"
)

// Limits on composite glyphs, for fonts that are damaged or malicious.
const (
	maxDepth  = 16
	maxPoints = 1 << 16
	maxParts  = 1 << 10
)

// trueType fits glyphs by their instructions at one size.
type trueType struct {
	face     *face.TrueType
	machine  *bytecode.Machine
	size     bytecode.Size
	unhinted bool

	zone  bytecode.Zone
	parts int
	out   Fitted
}

// NewTrueType runs a face's font and control value programs for a size. The
// fraction of the ppem stays in the scale, unless bit 3 of head.flags asks for a
// whole one; instructions see the nearest whole ppem. Where the face's own
// programs fail, or switch glyph programs off, glyphs are drawn unhinted: the
// letter is still there, and check shows what it lost.
func NewTrueType(f *face.TrueType, p glyph.PPEM) Fitter {
	t := &trueType{face: f}
	nx, ny := p.Nominal()
	x, y := p.X, p.Y
	if f.HeadFlags()&8 != 0 {
		x, y = fixed.I(nx), fixed.I(ny)
	}
	t.size = bytecode.Size{
		ScaleX: bytecode.DivFix(int32(x), int32(f.UPEM())), ScaleY: bytecode.DivFix(int32(y), int32(f.UPEM())),
		PPEMX: nx, PPEMY: ny,
	}
	m := f.Maxp()
	var err error
	t.machine, err = bytecode.New(bytecode.Program{
		Fpgm: f.Fpgm(), Prep: f.Prep(), CVT: f.CVT(),
		Storage: m.MaxStorage, Twilight: m.MaxTwilightPoints + 4, Stack: m.MaxStackElements,
	})
	if err == nil {
		err = t.machine.SetSize(t.size)
	}
	t.unhinted = err != nil || t.machine.Off()
	return t
}

// part is a glyph's points as they are put together, the four phantom points
// apart from them.
type part struct {
	points   []bytecode.Vec // 26.6
	on       []bool
	ends     []int
	modes    []glyph.Dropout // by contour
	phantoms [4]bytecode.Vec
}

// Fit fits one glyph. An instruction that cannot run ends the glyph's program
// where it stands; what it had moved stays moved, as in FreeType.
func (t *trueType) Fit(index int) (*Fitted, error) {
	t.parts = 0
	t.machine.Begin()
	p, err := t.load(index, 0)
	if err != nil {
		return nil, err
	}
	o := &t.out
	o.Outline.Points, o.Outline.Ends, o.Outline.Modes = o.Outline.Points[:0], p.ends, p.modes
	left := p.phantoms[0].X
	for i, v := range p.points {
		kind := glyph.Quad
		if p.on[i] {
			kind = glyph.OnCurve
		}
		o.Outline.Points = append(o.Outline.Points, glyph.Point{X: fixed.Int26_6(v.X - left), Y: fixed.Int26_6(v.Y), Kind: kind})
	}
	o.Advance = fixed.Int26_6(p.phantoms[1].X - left)
	o.Dropout = glyph.DropoutType1
	if !t.unhinted {
		o.Dropout = glyph.Dropout(min(t.machine.Dropout(), 7))
	}
	return o, nil
}

func (t *trueType) load(index, depth int) (*part, error) {
	g, err := t.face.Glyph(index)
	if err != nil {
		return nil, err
	}
	if t.parts++; depth > maxDepth || t.parts > maxParts {
		return nil, fmt.Errorf("%w: glyph %d: its components nest deeper than %d or are more than %d; they may be circular", face.ErrInvalid, index, maxDepth, maxParts)
	}
	phantoms := t.phantoms(index, g)
	if len(g.Components) == 0 {
		return t.simple(g, phantoms), nil
	}
	return t.composite(index, g, phantoms, depth)
}

// phantoms are the four points that stand for a glyph's origin, advance, top
// and bottom, in font units (OpenType, "Instructing TrueType glyphs").
func (t *trueType) phantoms(index int, g *face.Glyph) [4]bytecode.Vec {
	advance, lsb := t.face.HMetrics(index)
	height, tsb := t.face.VMetrics(index)
	x := int32(g.XMin - lsb)
	y := int32(g.YMax + tsb)
	return [4]bytecode.Vec{{X: x}, {X: x + int32(advance)}, {Y: y}, {Y: y - int32(height)}}
}

func (t *trueType) scale(v bytecode.Vec) bytecode.Vec {
	return bytecode.Vec{X: bytecode.MulFix(v.X, t.size.ScaleX), Y: bytecode.MulFix(v.Y, t.size.ScaleY)}
}

func (t *trueType) simple(g *face.Glyph, phantoms [4]bytecode.Vec) *part {
	n := len(g.Points)
	z := &t.zone
	z.Resize(n + 4)
	z.Ends = g.Ends
	for i, p := range g.Points {
		z.Unscaled[i] = bytecode.Vec{X: int32(p.X), Y: int32(p.Y)}
		z.OnCurve[i] = p.On
	}
	copy(z.Unscaled[n:], phantoms[:])
	for i, v := range z.Unscaled {
		z.Original[i] = t.scale(v)
	}
	copy(z.Current, z.Original)
	if n > 0 {
		t.hint(g.Instructions, false)
	}
	part := t.take(n)
	for i := range part.ends {
		part.modes = append(part.modes, glyph.DropoutKeep)
		if i == 0 && len(g.Instructions) > 0 && !t.unhinted {
			// FreeType marks the first contour with SCANTYPE's mode, whether SCANCTRL
			// is on or off (ttgload.c, TT_Hint_Glyph).
			part.modes[0] = glyph.Dropout(t.machine.ScanType() & 7)
		}
	}
	return part
}

// hint rounds the phantom points and runs a glyph's program over the zone.
func (t *trueType) hint(program []byte, composite bool) {
	if t.unhinted {
		return
	}
	z := &t.zone
	n := len(z.Current) - 4
	z.Current[n].X = (z.Current[n].X + 32) &^ 63
	z.Current[n+1].X = (z.Current[n+1].X + 32) &^ 63
	z.Current[n+2].Y = (z.Current[n+2].Y + 32) &^ 63
	z.Current[n+3].Y = (z.Current[n+3].Y + 32) &^ 63
	if len(program) == 0 {
		t.machine.Begin() // dropout control, too, is what prep left
		return
	}
	_ = t.machine.Run(z, program, composite) // lenient: see Fit
}

// take copies the zone's n points and its phantoms out.
func (t *trueType) take(n int) *part {
	z := &t.zone
	p := &part{
		points: append([]bytecode.Vec(nil), z.Current[:n]...),
		on:     append([]bool(nil), z.OnCurve[:n]...),
		ends:   append([]int(nil), z.Ends...),
	}
	copy(p.phantoms[:], z.Current[n:n+4])
	return p
}

func (t *trueType) composite(index int, g *face.Glyph, phantoms [4]bytecode.Vec, depth int) (*part, error) {
	whole := &part{}
	for i, v := range phantoms {
		whole.phantoms[i] = t.scale(v)
	}
	for i := range g.Components {
		c := &g.Components[i]
		sub, err := t.load(c.Index, depth+1)
		if err != nil {
			return nil, err
		}
		if c.Flags&face.UseMyMetrics != 0 {
			whole.phantoms = sub.phantoms
		}
		if len(whole.points)+len(sub.points) > maxPoints {
			return nil, fmt.Errorf("%w: glyph %d: more than %d points", face.ErrInvalid, index, maxPoints)
		}
		if err := t.place(whole, sub, c); err != nil {
			return nil, fmt.Errorf("%w: glyph %d: %w", face.ErrInvalid, index, err)
		}
	}
	if len(g.Instructions) == 0 || t.unhinted || len(whole.points) == 0 {
		return whole, nil
	}
	z := &t.zone
	n := len(whole.points)
	z.Resize(n + 4)
	z.Ends = whole.ends
	copy(z.Current, whole.points)
	copy(z.OnCurve, whole.on)
	copy(z.Current[n:], whole.phantoms[:])
	copy(z.Unscaled, z.Current)
	copy(z.Original, z.Current)
	t.hint(g.Instructions, true)
	fitted := t.take(n)
	fitted.modes = whole.modes
	return fitted, nil
}

// place adds a fitted component to the composite.
func (t *trueType) place(whole, sub *part, c *face.Component) error {
	if c.Flags&(face.HaveScale|face.HaveXYScale|face.HaveTwoByTwo) != 0 {
		for i, v := range sub.points {
			sub.points[i] = bytecode.Vec{X: mul(v.X, c.XX) + mul(v.Y, c.XY), Y: mul(v.X, c.YX) + mul(v.Y, c.YY)}
		}
	}
	d, err := t.offset(whole, sub, c)
	if err != nil {
		return err
	}
	base := len(whole.points)
	for _, v := range sub.points {
		whole.points = append(whole.points, bytecode.Vec{X: v.X + d.X, Y: v.Y + d.Y})
	}
	whole.on = append(whole.on, sub.on...)
	whole.modes = append(whole.modes, sub.modes...)
	for _, e := range sub.ends {
		whole.ends = append(whole.ends, base+e)
	}
	return nil
}

// offset is where a component goes: a distance, or the point that it meets.
func (t *trueType) offset(whole, sub *part, c *face.Component) (bytecode.Vec, error) {
	if c.Flags&face.ArgsAreXY == 0 {
		if c.Arg1 >= len(whole.points) || c.Arg2 >= len(sub.points) {
			return bytecode.Vec{}, fmt.Errorf("component glyph %d is to meet point %d at point %d, and one of them is missing", c.Index, c.Arg2, c.Arg1)
		}
		a, b := whole.points[c.Arg1], sub.points[c.Arg2]
		return bytecode.Vec{X: a.X - b.X, Y: a.Y - b.Y}, nil
	}
	d := bytecode.Vec{X: int32(c.Arg1), Y: int32(c.Arg2)}
	scaled := c.Flags&(face.HaveScale|face.HaveXYScale|face.HaveTwoByTwo) != 0
	if scaled && c.Flags&face.ScaledOffset != 0 {
		d.X = bytecode.MulFix(d.X, hypot(c.XX, c.XY))
		d.Y = bytecode.MulFix(d.Y, hypot(c.YY, c.YX))
	}
	d = t.scale(d)
	if c.Flags&face.RoundXYToGrid != 0 && !t.unhinted {
		d.X, d.Y = (d.X+32)&^63, (d.Y+32)&^63
	}
	return d, nil
}

// mul scales by a 2.14 factor, through 16.16 as the composite's matrix is kept.
func mul(v int32, f face.F2Dot14) int32 { return bytecode.MulFix(v, int32(f)*4) }

// hypot is the length of (a, b) in 16.16.
func hypot(a, b face.F2Dot14) int32 {
	n := uint64(int64(a)*int64(a)+int64(b)*int64(b)) * 16
	x := uint64(1) << 20
	for y := (x + n/x) / 2; y < x; y = (x + n/x) / 2 {
		x = y
	}
	return int32(x)
}
