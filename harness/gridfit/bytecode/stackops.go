package bytecode

// stackOp rearranges the stack: DUP, POP, CLEAR, SWAP, DEPTH, CINDEX, MINDEX,
// ROLL ("Managing the stack").
func (m *Machine) stackOp(op byte) {
	n := len(m.stack)
	switch op {
	case 0x20: // DUP: e → e, e
		e := m.pop()
		m.push(e)
		m.push(e)
	case 0x21: // POP: e →
		m.pop()
	case 0x22: // CLEAR
		m.stack = m.stack[:0]
	case 0x23: // SWAP: a, b → b, a
		b, a := m.pop(), m.pop()
		m.push(b)
		m.push(a)
	case 0x24: // DEPTH: → n
		m.push(int32(n))
	case 0x25: // CINDEX: k → the k-th value
		k := int(m.pop())
		if k <= 0 || k > len(m.stack) {
			m.push(0)
			return
		}
		m.push(m.stack[len(m.stack)-k])
	case 0x26: // MINDEX: k → the k-th value, taken from its place
		k := int(m.pop())
		if k <= 0 || k > len(m.stack) {
			return
		}
		at := len(m.stack) - k
		v := m.stack[at]
		copy(m.stack[at:], m.stack[at+1:])
		m.stack[len(m.stack)-1] = v
	case 0x8A: // ROLL: a, b, c → b, c, a
		c, b, a := m.pop(), m.pop(), m.pop()
		m.push(b)
		m.push(c)
		m.push(a)
	}
}
