package bytecode

// Chapter "Managing the stack".

// dup: DUP[], 0x20
// Pops:   e
// Pushes: e, e
// Does:   copies the top value
// Spec:   Managing the stack
func (m *Machine) dup() {
	e := m.pop()
	m.push(e)
	m.push(e)
}

// popTop: POP[], 0x21
// Pops:   e
// Pushes: nothing
// Does:   drops the top value
// Spec:   Managing the stack
func (m *Machine) popTop() { m.pop() }

// clearStack: CLEAR[], 0x22
// Pops:   nothing
// Pushes: nothing
// Does:   empties the stack
// Spec:   Managing the stack
func (m *Machine) clearStack() { m.top = 0 }

// swap: SWAP[], 0x23
// Pops:   e1, e2
// Pushes: e2, e1
// Does:   swaps the top two values
// Spec:   Managing the stack
func (m *Machine) swap() {
	e2, e1 := m.pop(), m.pop()
	m.push(e2)
	m.push(e1)
}

// depth: DEPTH[], 0x24
// Pops:   nothing
// Pushes: n
// Does:   counts the values on the stack
// Spec:   Managing the stack
func (m *Machine) depth() { m.push(int32(m.top)) }

// cindex: CINDEX[], 0x25
// Pops:   k
// Pushes: e
// Does:   copies the k-th value from the top; 0 where there is none
// Spec:   Managing the stack
func (m *Machine) cindex() {
	k, e := int(m.pop()), int32(0)
	if k > 0 && k <= m.top {
		e = m.stack[m.top-k]
	}
	m.push(e)
}

// mindex: MINDEX[], 0x26
// Pops:   k
// Pushes: nothing
// Does:   moves the k-th value to the top; nothing where there is none
// Spec:   Managing the stack
func (m *Machine) mindex() {
	k := int(m.pop())
	if k <= 0 || k > m.top {
		return
	}
	m.spend(k)
	s := m.stack[m.top-k : m.top]
	e := s[0]
	copy(s, s[1:])
	s[k-1] = e
}

// roll: ROLL[], 0x8A
// Pops:   a, b, c
// Pushes: b, c, a
// Does:   turns the top three values round
// Spec:   Managing the stack
func (m *Machine) roll() {
	c, b, a := m.pop(), m.pop(), m.pop()
	m.push(b)
	m.push(c)
	m.push(a)
}
