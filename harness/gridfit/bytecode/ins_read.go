package bytecode

// Chapter "Reading and writing data".

// gc: GC[a], 0x46 now, 0x47 originally
// Pops:   p, a point
// Pushes: c, 26.6 px
// Does:   measures where p is along the projection vector; 0 where it is missing
// Spec:   Reading and writing data
func (m *Machine) gc() {
	p, z, c := int(m.pop()), m.zp[2], F26Dot6(0)
	if z.has(p) {
		if m.opcode&1 != 0 {
			c = m.dualProject(z.original(p))
		} else {
			c = m.project(z.current(p))
		}
	}
	m.push(c)
}

// scfs: SCFS[], 0x48
// Pops:   p, a point; c, 26.6 px
// Pushes: nothing
// Does:   moves p to c along the projection vector; in the twilight zone originally too
// Spec:   Reading and writing data
func (m *Machine) scfs() {
	c, p := m.pop(), m.popPoint()
	z := m.zp[2]
	if !z.has(p) {
		return
	}
	m.move(z, p, c-m.project(z.current(p)))
	if z == &m.twilight {
		z.setOriginal(p, z.current(p))
	}
}

// md: MD[a], 0x49 now, 0x4A originally
// Pops:   p2, p1, points
// Pushes: d, 26.6 px
// Does:   measures from p1 to p2; 0 where one of them is missing
// Spec:   Reading and writing data
func (m *Machine) md() {
	p1, p2 := m.popPoint(), m.popPoint()
	z0, z1, d := m.zp[0], m.zp[1], F26Dot6(0)
	if z0.has(p2) && z1.has(p1) {
		if m.opcode&1 != 0 {
			d = m.project(sub(z0.current(p2), z1.current(p1)))
		} else {
			d = m.original(z0, p2, z1, p1)
		}
	}
	m.push(d)
}

// mppem: MPPEM[], 0x4B
// Pops:   nothing
// Pushes: n
// Does:   tells the ppem along the projection vector
// Spec:   Reading and writing data
func (m *Machine) mppem() { m.push(m.ppem()) }

// mps: MPS[], 0x4C
// Pops:   nothing
// Pushes: n
// Does:   tells the ppem too: interpreter 35 knows no point size
// Spec:   Reading and writing data
func (m *Machine) mps() { m.push(m.ppem()) }
