package gridfit

import (
	"fmt"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/bytecode"
)

// Limits on composite glyphs, for fonts that are damaged or malicious. FreeType
// counts points and contours in 16 bits with a sign (ftimage.h, FT_Outline).
const (
	maxDepth  = 16
	maxParts  = 1 << 10
	maxPoints = 1<<15 - 1
)

// assembly is an outline as it is put together, 26.6 px, Y up.
type assembly struct {
	bytecode.Coords
	on    []bool
	ends  []int
	modes []glyph.Dropout // by contour
	recur []int32         // by contour: see glyph.Outline.Recurs
}

// mark is a place in an assembly: how much of it there was.
type mark struct{ points, ends int }

func (a *assembly) mark() mark { return mark{len(a.on), len(a.ends)} }

func (a *assembly) cut(m mark) {
	a.X, a.Y, a.on = a.X[:m.points], a.Y[:m.points], a.on[:m.points]
	a.ends, a.modes, a.recur = a.ends[:m.ends], a.modes[:m.ends], a.recur[:m.ends]
}

// add takes over a zone's points, and gives its phantom points. The contours keep
// the dropout mode of what comes before them; they are numbered from first on, unless that is 0.
func (a *assembly) add(z *bytecode.Zone, first int32) phantoms {
	n, base := len(z.OnCurve)-len(phantoms{}), len(a.on)
	a.X = append(a.X, z.Current.X[:n]...)
	a.Y = append(a.Y, z.Current.Y[:n]...)
	a.on = append(a.on, z.OnCurve[:n]...)
	for _, e := range z.Ends {
		a.ends = append(a.ends, base+e)
		a.modes = append(a.modes, glyph.DropoutKeep)
		a.recur = append(a.recur, first)
		if first != 0 {
			first++
		}
	}
	return lastOf(z)
}

// points are the assembly's, moved left, in the memory of old ones.
func (a *assembly) points(old []glyph.Point, left bytecode.F26Dot6) []glyph.Point {
	all := slices.Grow(old[:0], len(a.on))[:len(a.on)]
	for i, on := range a.on {
		kind := glyph.Quad
		if on {
			kind = glyph.OnCurve
		}
		all[i] = glyph.Point{X: fixed.Int26_6(a.X[i] - left), Y: fixed.Int26_6(a.Y[i]), Kind: kind}
	}
	return all
}

// put has the points from a mark on where the zone has them, and gives its phantom
// points.
func (a *assembly) put(from mark, z *bytecode.Zone) phantoms {
	copy(a.X[from.points:], z.Current.X)
	copy(a.Y[from.points:], z.Current.Y)
	copy(a.on[from.points:], z.OnCurve)
	return lastOf(z)
}

func lastOf(z *bytecode.Zone) (p phantoms) {
	n := len(z.OnCurve) - len(p)
	for i := range p {
		p[i] = bytecode.Vec{X: z.Current.X[n+i], Y: z.Current.Y[n+i]}
	}
	return p
}

// composite loads a glyph's components, puts each in its place, and runs the
// glyph's own program over them all.
func (t *trueType) composite(index int, g *face.Glyph, own phantoms, depth int) (phantoms, error) {
	start := t.whole.mark()
	for i := range g.Components {
		c := &g.Components[i]
		from := t.whole.mark()
		its, err := t.load(c.Index, depth+1)
		if err != nil {
			return own, err
		}
		if c.Flags&face.UseMyMetrics != 0 {
			own = its
		}
		if t.whole.mark() == from {
			continue
		}
		if err := t.place(c, start.points, from); err != nil {
			return own, fmt.Errorf("%w: glyph %d: %w", face.ErrInvalid, index, err)
		}
	}
	if len(g.Instructions) == 0 || t.whole.mark() == start {
		return own, nil
	}
	t.takeZone(start, own)
	t.hint(index, g.Instructions, true)
	return t.whole.put(start, &t.zone), nil
}

// takeZone makes the points from a mark on the zone. Their fitted places are all
// that a composite's program knows of how they were.
func (t *trueType) takeZone(start mark, own phantoms) {
	z, w := &t.zone, &t.whole
	n := len(w.on) - start.points
	z.Resize(n + len(own))
	copy(z.Current.X, w.X[start.points:])
	copy(z.Current.Y, w.Y[start.points:])
	copy(z.OnCurve, w.on[start.points:])
	for i, v := range own {
		z.Current.X[n+i], z.Current.Y[n+i] = v.X, v.Y
	}
	for _, c := range []*bytecode.Coords{&z.Unscaled, &z.Original} {
		copy(c.X, z.Current.X)
		copy(c.Y, z.Current.Y)
	}
	t.ends = t.ends[:0]
	for _, e := range w.ends[start.ends:] {
		t.ends = append(t.ends, e-start.points)
	}
	z.Ends = t.ends
}

const scales = face.HaveScale | face.HaveXYScale | face.HaveTwoByTwo

// place moves the component that begins at from, inside the composite whose
// points begin at start.
func (t *trueType) place(c *face.Component, start int, from mark) error {
	w := &t.whole
	if c.Flags&scales != 0 {
		for i := from.points; i < len(w.X); i++ {
			x, y := w.X[i], w.Y[i]
			w.X[i], w.Y[i] = mul(x, c.XX)+mul(y, c.XY), mul(x, c.YX)+mul(y, c.YY)
		}
		clear(w.recur[from.ends:])
	}
	d, err := t.offset(c, start, from.points)
	if err != nil {
		return err
	}
	for i := from.points; i < len(w.X); i++ {
		w.X[i] += d.X
		w.Y[i] += d.Y
	}
	return nil
}

// offset is where a component goes: a distance, or from its point to the one that
// it is to meet.
func (t *trueType) offset(c *face.Component, start, from int) (bytecode.Vec, error) {
	w := &t.whole
	if c.Flags&face.ArgsAreXY == 0 {
		a, b := start+c.Arg1, from+c.Arg2
		if a >= from || b >= len(w.X) {
			return bytecode.Vec{}, fmt.Errorf("component glyph %d is to meet point %d at point %d, and one of them is missing", c.Index, c.Arg2, c.Arg1)
		}
		return bytecode.Vec{X: w.X[a] - w.X[b], Y: w.Y[a] - w.Y[b]}, nil
	}
	d := bytecode.Vec{X: int32(c.Arg1), Y: int32(c.Arg2)}
	if c.Flags&scales != 0 && c.Flags&face.ScaledOffset != 0 {
		d.X = bytecode.MulFix(d.X, bytecode.Hypot(fix(c.XX), fix(c.XY)))
		d.Y = bytecode.MulFix(d.Y, bytecode.Hypot(fix(c.YY), fix(c.YX)))
	}
	d = t.scale(d)
	if c.Flags&face.RoundXYToGrid != 0 && t.hinted {
		d.X, d.Y = (d.X+32)&^63, (d.Y+32)&^63
	}
	return d, nil
}

// fix is a 2.14 factor in 16.16.
func fix(f face.F2Dot14) int32 { return int32(f) * 4 }

func mul(v int32, f face.F2Dot14) int32 { return bytecode.MulFix(v, fix(f)) }
