package bytecode

// vectors sets the projection, freedom and dual vectors: SVTCA, SPVTCA, SFVTCA,
// SPVTL, SFVTL, SPVFS, SFVFS, GPV, GFV, SFVTPV, SDPVTL ("Managing the graphics state").
func (m *Machine) vectors(op byte) {
	g := &m.gs
	switch op {
	case 0x00, 0x01: // SVTCA[a]: both to an axis
		g.free = axis(op)
		g.proj, g.dual = g.free, g.free
	case 0x02, 0x03: // SPVTCA[a]
		g.proj = axis(op)
		g.dual = g.proj
	case 0x04, 0x05: // SFVTCA[a]
		g.free = axis(op)
	case 0x06, 0x07: // SPVTL[a]: p1, p2 →
		if v, ok := m.alongLine(op, false); ok {
			g.proj, g.dual = v, v
		}
	case 0x08, 0x09: // SFVTL[a]: p1, p2 →
		if v, ok := m.alongLine(op, false); ok {
			g.free = v
		}
	case 0x0A, 0x0B: // SPVFS, SFVFS: x, y →
		y, x := int32(int16(m.pop())), int32(int16(m.pop()))
		v, ok := unit(x, y)
		switch {
		case !ok:
		case op == 0x0A:
			g.proj, g.dual = v, v
		default:
			g.free = v
		}
	case 0x0C: // GPV: → x, y
		m.push(g.proj.X)
		m.push(g.proj.Y)
	case 0x0D: // GFV: → x, y
		m.push(g.free.X)
		m.push(g.free.Y)
	case 0x0E: // SFVTPV
		g.free = g.proj
	case 0x86, 0x87: // SDPVTL[a]: p1, p2 →; the dual by the original outline
		n := len(m.stack)
		if v, ok := m.alongLine(op, true); ok {
			g.dual = v
			m.stack = m.stack[:n]
			if v, ok := m.alongLine(op, false); ok {
				g.proj = v
			}
		}
	}
	m.compute()
}

func axis(op byte) Vec {
	if op&1 != 0 {
		return Vec{0x4000, 0}
	}
	return Vec{0, 0x4000}
}

// alongLine pops two points and gives the direction from the one to the other,
// or at a right angle to it. Points that coincide give the X axis.
func (m *Machine) alongLine(op byte, original bool) (Vec, bool) {
	i1, i2 := m.pop(), m.pop()
	z1, z2 := m.zone(1), m.zone(2)
	if !z1.has(i2) || !z2.has(i1) {
		return Vec{}, false
	}
	d := sub(z1.Current[i2], z2.Current[i1])
	if original {
		d = sub(z1.Original[i2], z2.Original[i1])
	}
	if d == (Vec{}) {
		return Vec{0x4000, 0}, true
	}
	if op&1 != 0 {
		d = Vec{-d.Y, d.X}
	}
	return unit(d.X, d.Y)
}
