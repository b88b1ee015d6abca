package bytecode

// Chapter "Managing the graphics state": the vectors.

// svtca: SVTCA[a], 0x00 y, 0x01 x
// Pops:   nothing
// Pushes: nothing
// Does:   sets projection and freedom vector to an axis
// Spec:   Managing the graphics state
func (m *Machine) svtca() {
	m.gs.free = axisOf(m.opcode)
	m.setProjection(m.gs.free)
}

// spvtca: SPVTCA[a], 0x02 y, 0x03 x
// Pops:   nothing
// Pushes: nothing
// Does:   sets the projection vector to an axis
// Spec:   Managing the graphics state
func (m *Machine) spvtca() { m.setProjection(axisOf(m.opcode)) }

// sfvtca: SFVTCA[a], 0x04 y, 0x05 x
// Pops:   nothing
// Pushes: nothing
// Does:   sets the freedom vector to an axis
// Spec:   Managing the graphics state
func (m *Machine) sfvtca() { m.setFreedom(axisOf(m.opcode)) }

// spvtl: SPVTL[a], 0x06 along, 0x07 at a right angle
// Pops:   p2, p1, points
// Pushes: nothing
// Does:   sets the projection vector by the line from p1 to p2
// Spec:   Managing the graphics state
func (m *Machine) spvtl() {
	if v, ok := m.line(); ok {
		m.setProjection(v)
	}
}

// sfvtl: SFVTL[a], 0x08 along, 0x09 at a right angle
// Pops:   p2, p1, points
// Pushes: nothing
// Does:   sets the freedom vector by the line from p1 to p2
// Spec:   Managing the graphics state
func (m *Machine) sfvtl() {
	if v, ok := m.line(); ok {
		m.setFreedom(v)
	}
}

// sdpvtl: SDPVTL[a], 0x86 along, 0x87 at a right angle
// Pops:   p2, p1, points
// Pushes: nothing
// Does:   sets the dual projection vector by the line from p1 to p2 on the original
// outline, and the projection vector by the line as it is now
// Spec:   Managing the graphics state
func (m *Machine) sdpvtl() {
	p1, p2 := m.popPoint(), m.popPoint()
	z1, z2 := m.zp[1], m.zp[2]
	if !z1.has(p2) || !z2.has(p1) {
		return
	}
	was := sub(z1.original(p2), z2.original(p1))
	across := m.opcode&1 != 0 && was != Vec{}
	m.gs.dual = direction(was, across)
	m.gs.proj = direction(sub(z1.current(p2), z2.current(p1)), across)
	m.readyVectors()
}

// spvfs: SPVFS[], 0x0A
// Pops:   x, y, 2.14
// Pushes: nothing
// Does:   sets the projection vector to the direction (x, y)
// Spec:   Managing the graphics state
func (m *Machine) spvfs() {
	v, ok := m.popDirection()
	if !ok {
		v = m.gs.proj
	}
	m.setProjection(v)
}

// sfvfs: SFVFS[], 0x0B
// Pops:   x, y, 2.14
// Pushes: nothing
// Does:   sets the freedom vector to the direction (x, y)
// Spec:   Managing the graphics state
func (m *Machine) sfvfs() {
	if v, ok := m.popDirection(); ok {
		m.setFreedom(v)
	}
}

// gpv: GPV[], 0x0C
// Pops:   nothing
// Pushes: x, y, 2.14
// Does:   tells the projection vector
// Spec:   Managing the graphics state
func (m *Machine) gpv() {
	m.push(m.gs.proj.X)
	m.push(m.gs.proj.Y)
}

// gfv: GFV[], 0x0D
// Pops:   nothing
// Pushes: x, y, 2.14
// Does:   tells the freedom vector
// Spec:   Managing the graphics state
func (m *Machine) gfv() {
	m.push(m.gs.free.X)
	m.push(m.gs.free.Y)
}

// sfvtpv: SFVTPV[], 0x0E
// Pops:   nothing
// Pushes: nothing
// Does:   sets the freedom vector to the projection vector
// Spec:   Managing the graphics state
func (m *Machine) sfvtpv() { m.setFreedom(m.gs.proj) }

func axisOf(op byte) Vec {
	if op&1 != 0 {
		return Vec{0x4000, 0}
	}
	return Vec{0, 0x4000}
}

func (m *Machine) setProjection(v Vec) {
	m.gs.proj, m.gs.dual = v, v
	m.readyVectors()
}

func (m *Machine) setFreedom(v Vec) {
	m.gs.free = v
	m.readyVectors()
}

// line pops two points and gives the direction from the one to the other, or at a
// right angle to it.
func (m *Machine) line() (Vec, bool) {
	p1, p2 := m.popPoint(), m.popPoint()
	z1, z2 := m.zp[1], m.zp[2]
	if !z1.has(p2) || !z2.has(p1) {
		return Vec{}, false
	}
	return direction(sub(z1.current(p2), z2.current(p1)), m.opcode&1 != 0), true
}

// direction is the unit vector along d or, across, a quarter turn further. Points
// that coincide give the X axis, either way.
func direction(d Vec, across bool) Vec {
	if d == (Vec{}) {
		return Vec{0x4000, 0}
	}
	if across {
		d = Vec{-d.Y, d.X}
	}
	v, _ := unit(d.X, d.Y)
	return v
}

func (m *Machine) popDirection() (Vec, bool) {
	y, x := int32(int16(m.pop())), int32(int16(m.pop()))
	return unit(x, y)
}
