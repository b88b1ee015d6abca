package bytecode

// compute follows a change of the projection or freedom vector.
func (m *Machine) compute() {
	g := &m.gs
	m.pDot = int32((int64(g.proj.X)*int64(g.free.X) + int64(g.proj.Y)*int64(g.free.Y)) >> 14)
	if abs(m.pDot) < 0x400 {
		m.pDot = 0x4000 // nearly perpendicular: moving would throw points far away
	}
}

func (m *Machine) project(v Vec) F26Dot6     { return dot14(v.X, v.Y, m.gs.proj) }
func (m *Machine) dualProject(v Vec) F26Dot6 { return dot14(v.X, v.Y, m.gs.dual) }

func sub(a, b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y} }

// move shifts a point along the freedom vector so that it moves d along the
// projection vector.
func (m *Machine) move(z *Zone, p int32, d F26Dot6) {
	if f := m.gs.free.X; f != 0 {
		z.Current[p].X += mulDiv(d, f, m.pDot)
		z.Touched[p] |= TouchX
	}
	if f := m.gs.free.Y; f != 0 {
		z.Current[p].Y += mulDiv(d, f, m.pDot)
		z.Touched[p] |= TouchY
	}
}

// shift moves a point of zone pointer 2 by an offset along the freedom vector's axes.
func (m *Machine) shift(p int32, d Vec, touch bool) {
	z := m.zone(2)
	if m.gs.free.X != 0 {
		z.Current[p].X += d.X
		if touch {
			z.Touched[p] |= TouchX
		}
	}
	if m.gs.free.Y != 0 {
		z.Current[p].Y += d.Y
		if touch {
			z.Touched[p] |= TouchY
		}
	}
}

// original is the distance from b to a before any instruction, along the dual
// projection vector: from font units where both points have them, so that no
// rounding of the scaled outline comes in.
func (m *Machine) original(za *Zone, a int32, zb *Zone, b int32) F26Dot6 {
	if za == &m.twilight || zb == &m.twilight {
		return m.dualProject(sub(za.Original[a], zb.Original[b]))
	}
	d := sub(za.Unscaled[a], zb.Unscaled[b])
	if m.size.ScaleX == m.size.ScaleY {
		return MulFix(m.dualProject(d), m.size.ScaleX)
	}
	return m.dualProject(Vec{MulFix(d.X, m.size.ScaleX), MulFix(d.Y, m.size.ScaleY)})
}

// ratio is how much the projection's direction is stretched against the larger
// ppem, 16.16.
func (m *Machine) ratio() int32 {
	x, y := int32(0x10000), int32(0x10000)
	if m.size.PPEMX >= m.size.PPEMY {
		y = DivFix(int32(m.size.PPEMY), int32(m.size.PPEMX))
	} else {
		x = DivFix(int32(m.size.PPEMX), int32(m.size.PPEMY))
	}
	switch {
	case x == y || m.gs.proj.Y == 0:
		return x
	case m.gs.proj.X == 0:
		return y
	}
	a, b := mulFix14(x, m.gs.proj.X), mulFix14(y, m.gs.proj.Y)
	return int32(sqrt(uint64(int64(a)*int64(a) + int64(b)*int64(b))))
}

func sqrt(v uint64) uint64 {
	if v == 0 {
		return 0
	}
	x := uint64(1) << 32
	for {
		y := (x + v/x) / 2
		if y >= x {
			return x
		}
		x = y
	}
}

func (m *Machine) square() bool { return m.size.PPEMX == m.size.PPEMY }

// ppem is the size along the projection vector.
func (m *Machine) ppem() int32 { return MulFix(int32(max(m.size.PPEMX, m.size.PPEMY)), m.ratio()) }

func (m *Machine) readCVT(i int32) F26Dot6 {
	if i < 0 || int(i) >= len(m.cvt) {
		return 0
	}
	if m.square() {
		return m.cvt[i]
	}
	return MulFix(m.cvt[i], m.ratio())
}

func (m *Machine) writeCVT(i int32, v F26Dot6) {
	if i < 0 || int(i) >= len(m.cvt) {
		return
	}
	if !m.square() {
		v = DivFix(v, m.ratio())
	}
	m.cvt[i] = v
}
