package bytecode

// Chapter "Managing exceptions".

// deltap: DELTAP1[], DELTAP2[], DELTAP3[], 0x5D, 0x71, 0x72
// Pops:   pairs of an argument and a point; n, their number
// Pushes: nothing
// Does:   moves each point by some steps where the argument names this ppem
// Spec:   Managing exceptions
func (m *Machine) deltap() {
	base := m.gs.deltaBase
	switch m.opcode {
	case 0x71:
		base += 16
	case 0x72:
		base += 32
	}
	z := m.zp[0]
	for range m.pairs() {
		p, arg := m.popPoint(), m.pop()
		if d := m.exception(arg, base); d != 0 && z.has(p) {
			m.move(z, p, d)
		}
	}
}

// deltac: DELTAC1[], DELTAC2[], DELTAC3[], 0x73 to 0x75
// Pops:   pairs of an argument and a control value; n, their number
// Pushes: nothing
// Does:   changes each control value by some steps where the argument names this ppem
// Spec:   Managing exceptions
func (m *Machine) deltac() {
	base := m.gs.deltaBase + 16*int32(m.opcode-0x73)
	for range m.pairs() {
		c, arg := m.pop(), m.pop()
		d := m.exception(arg, base)
		if d == 0 || !m.hasCVT(c) {
			continue
		}
		if !m.square() {
			d = DivFix(d, m.stretch())
		}
		m.cvt[c] += d
		m.cvtChanged = true
	}
}

// pairs pops a number of pairs, and no more than the stack holds. Where it holds
// too few, a value left over goes with the last of them.
func (m *Machine) pairs() int {
	n := int(uint32(m.pop()))
	if n > m.top/2 {
		n = m.top / 2
		copy(m.stack, m.stack[m.top%2:m.top])
		m.top = 2 * n
	}
	m.spend(n)
	return n
}

// exception is what an argument asks for at this ppem, never 0 where it counts: its
// high half is the ppem from base on, its low half -8 to -1 and 1 to 8 steps.
func (m *Machine) exception(arg, base int32) F26Dot6 {
	if m.ppem() != arg>>4&15+base {
		return 0
	}
	steps := arg&15 - 8
	if steps >= 0 {
		steps++
	}
	return steps << (6 - m.gs.deltaShift)
}
