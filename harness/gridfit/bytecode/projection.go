package bytecode

// vectors is what the machine keeps ready of the projection, dual projection and
// freedom vectors.
type vectors struct {
	projAxis, dualAxis axis
	moveAxis           axis  // along which a point moves just as far as it is asked to
	pDot               int32 // projection · freedom, 2.14
	ratio              int32 // 16.16; 0 until it is asked for
}

// axis is the direction of a vector, where it has an axis' direction.
type axis uint8

const (
	oblique axis = iota
	alongX
	alongY
)

// axis takes a vector whose one part is a whole one for an axis, whatever the other
// part: 2.14 has no room for the difference (FreeType, ttinterp.c, Compute_Funcs).
func (v Vec) axis() axis {
	switch {
	case v.X == 0x4000:
		return alongX
	case v.Y == 0x4000:
		return alongY
	}
	return oblique
}

// readyVectors makes what is kept of the vectors anew after a change of one.
func (m *Machine) readyVectors() {
	g := &m.gs
	m.projAxis, m.dualAxis, m.ratio = g.proj.axis(), g.dual.axis(), 0
	m.moveAxis = g.free.axis()
	switch m.moveAxis {
	case alongX:
		m.pDot = g.proj.X
	case alongY:
		m.pDot = g.proj.Y
	default:
		m.pDot = int32((int64(g.proj.X)*int64(g.free.X) + int64(g.proj.Y)*int64(g.free.Y)) >> 14)
	}
	if m.pDot != 0x4000 {
		m.moveAxis = oblique
	}
	if abs(m.pDot) < 0x400 {
		m.pDot = 0x4000 // nearly perpendicular: moving would throw points far away
	}
}

// project is the length of v along the projection vector.
func (m *Machine) project(v Vec) F26Dot6 {
	switch m.projAxis {
	case alongX:
		return v.X
	case alongY:
		return v.Y
	}
	return dot14(v.X, v.Y, m.gs.proj)
}

// dualProject is the length of v along the dual projection vector, by which
// distances on the original outline are measured.
func (m *Machine) dualProject(v Vec) F26Dot6 {
	switch m.dualAxis {
	case alongX:
		return v.X
	case alongY:
		return v.Y
	}
	return dot14(v.X, v.Y, m.gs.dual)
}

// move shifts a point along the freedom vector so that it moves d along the
// projection vector.
func (m *Machine) move(z *Zone, p int, d F26Dot6) {
	switch m.moveAxis {
	case alongX:
		z.Current.X[p] += d
		z.Touched[p] |= TouchX
	case alongY:
		z.Current.Y[p] += d
		z.Touched[p] |= TouchY
	default:
		m.moveOblique(z, p, d)
	}
}

func (m *Machine) moveOblique(z *Zone, p int, d F26Dot6) {
	if f := m.gs.free.X; f != 0 {
		z.Current.X[p] += mulDiv(d, f, m.pDot)
		z.Touched[p] |= TouchX
	}
	if f := m.gs.free.Y; f != 0 {
		z.Current.Y[p] += mulDiv(d, f, m.pDot)
		z.Touched[p] |= TouchY
	}
}

// freed is the way along the freedom vector that comes to d along the projection vector.
func (m *Machine) freed(d F26Dot6) Vec {
	return Vec{mulDiv(d, m.gs.free.X, m.pDot), mulDiv(d, m.gs.free.Y, m.pDot)}
}

// original is the distance from b to a before any instruction, along the dual
// projection vector: from font units where both points have them, so that no
// rounding of the scaled outline comes in.
func (m *Machine) original(za *Zone, a int, zb *Zone, b int) F26Dot6 {
	if za == &m.twilight || zb == &m.twilight {
		return m.dualProject(sub(za.original(a), zb.original(b)))
	}
	d := sub(za.unscaled(a), zb.unscaled(b))
	if m.size.ScaleX == m.size.ScaleY {
		return MulFix(m.dualProject(d), m.size.ScaleX)
	}
	return m.dualProject(Vec{MulFix(d.X, m.size.ScaleX), MulFix(d.Y, m.size.ScaleY)})
}

// stretch is how much the projection's direction is stretched against the larger
// ppem, 16.16.
func (m *Machine) stretch() int32 {
	if m.ratio == 0 {
		m.ratio = m.findRatio()
	}
	return m.ratio
}

func (m *Machine) findRatio() int32 {
	x, y := int32(0x10000), int32(0x10000)
	if m.size.PPEMX >= m.size.PPEMY {
		y = DivFix(int32(m.size.PPEMY), int32(m.size.PPEMX))
	} else {
		x = DivFix(int32(m.size.PPEMX), int32(m.size.PPEMY))
	}
	switch {
	case m.gs.proj.Y == 0:
		return x
	case m.gs.proj.X == 0:
		return y
	}
	return Hypot(mulFix14(x, m.gs.proj.X), mulFix14(y, m.gs.proj.Y))
}

func (m *Machine) square() bool { return m.size.PPEMX == m.size.PPEMY }

// ppem is the size along the projection vector.
func (m *Machine) ppem() int32 {
	if m.square() {
		return int32(m.size.PPEMX)
	}
	return MulFix(int32(max(m.size.PPEMX, m.size.PPEMY)), m.stretch())
}
