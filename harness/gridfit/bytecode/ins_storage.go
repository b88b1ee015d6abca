package bytecode

// Chapters "Managing the storage area" and "Managing the control value table".

// rs: RS[], 0x43
// Pops:   i, an index
// Pushes: v
// Does:   reads storage i; 0 where there is none
// Spec:   Managing the storage area
func (m *Machine) rs() {
	v, i := int32(0), m.pop()
	if uint(i) < uint(len(m.storage)) {
		v = m.storage[i]
	}
	m.push(v)
}

// ws: WS[], 0x42
// Pops:   i, an index; v
// Pushes: nothing
// Does:   writes v to storage i, for a glyph's program until its end
// Spec:   Managing the storage area
func (m *Machine) ws() {
	v, i := m.pop(), m.pop()
	if uint(i) < uint(len(m.storage)) {
		m.storage[i] = v
		m.storageChanged = true
	}
}

// wcvtp: WCVTP[], 0x44
// Pops:   i, a control value; v, 26.6 px
// Pushes: nothing
// Does:   sets control value i to v, for a glyph's program until its end
// Spec:   Managing the control value table
func (m *Machine) wcvtp() {
	v, i := m.pop(), m.pop()
	if m.hasCVT(i) {
		if !m.square() {
			v = DivFix(v, m.stretch())
		}
		m.cvt[i] = v
		m.cvtChanged = true
	}
}

// wcvtf: WCVTF[], 0x70
// Pops:   i, a control value; v, font units
// Pushes: nothing
// Does:   sets control value i to v, scaled, for a glyph's program until its end
// Spec:   Managing the control value table
func (m *Machine) wcvtf() {
	v, i := m.pop(), m.pop()
	if m.hasCVT(i) {
		m.cvt[i] = MulFix(v, m.scale)
		m.cvtChanged = true
	}
}

// rcvt: RCVT[], 0x45
// Pops:   i, a control value
// Pushes: v, 26.6 px
// Does:   reads control value i; 0 where there is none
// Spec:   Managing the control value table
func (m *Machine) rcvt() {
	v, i := F26Dot6(0), m.pop()
	if m.hasCVT(i) {
		v = m.readCVT(i)
	}
	m.push(v)
}

func (m *Machine) hasCVT(i int32) bool { return uint(i) < uint(len(m.cvt)) }

// readCVT is a control value along the projection vector. Control values are
// kept at the larger ppem's scale.
func (m *Machine) readCVT(i int32) F26Dot6 {
	if m.square() {
		return m.cvt[i]
	}
	return MulFix(m.cvt[i], m.stretch())
}
