package bytecode

// Chapter "Logical functions". True is 1 and false 0; any value but 0 counts as true.

// lt: LT[], 0x50
// Pops:   e1, e2
// Pushes: e
// Does:   e1 < e2
// Spec:   Logical functions
func (m *Machine) lt() { b, a := m.pop(), m.pop(); m.push(truth(a < b)) }

// lteq: LTEQ[], 0x51
// Pops:   e1, e2
// Pushes: e
// Does:   e1 ≤ e2
// Spec:   Logical functions
func (m *Machine) lteq() { b, a := m.pop(), m.pop(); m.push(truth(a <= b)) }

// gt: GT[], 0x52
// Pops:   e1, e2
// Pushes: e
// Does:   e1 > e2
// Spec:   Logical functions
func (m *Machine) gt() { b, a := m.pop(), m.pop(); m.push(truth(a > b)) }

// gteq: GTEQ[], 0x53
// Pops:   e1, e2
// Pushes: e
// Does:   e1 ≥ e2
// Spec:   Logical functions
func (m *Machine) gteq() { b, a := m.pop(), m.pop(); m.push(truth(a >= b)) }

// eq: EQ[], 0x54
// Pops:   e1, e2
// Pushes: e
// Does:   e1 = e2
// Spec:   Logical functions
func (m *Machine) eq() { b, a := m.pop(), m.pop(); m.push(truth(a == b)) }

// neq: NEQ[], 0x55
// Pops:   e1, e2
// Pushes: e
// Does:   e1 ≠ e2
// Spec:   Logical functions
func (m *Machine) neq() { b, a := m.pop(), m.pop(); m.push(truth(a != b)) }

// odd: ODD[], 0x56
// Pops:   d, 26.6 px
// Pushes: e
// Does:   whether d is odd once it is rounded
// Spec:   Logical functions
func (m *Machine) odd() { m.push(truth(m.gs.round.round(m.pop())&127 == 64)) }

// even: EVEN[], 0x57
// Pops:   d, 26.6 px
// Pushes: e
// Does:   whether d is even once it is rounded
// Spec:   Logical functions
func (m *Machine) even() { m.push(truth(m.gs.round.round(m.pop())&127 == 0)) }

// and: AND[], 0x5A
// Pops:   e1, e2
// Pushes: e
// Does:   e1 and e2
// Spec:   Logical functions
func (m *Machine) and() { b, a := m.pop(), m.pop(); m.push(truth(a != 0 && b != 0)) }

// or: OR[], 0x5B
// Pops:   e1, e2
// Pushes: e
// Does:   e1 or e2
// Spec:   Logical functions
func (m *Machine) or() { b, a := m.pop(), m.pop(); m.push(truth(a != 0 || b != 0)) }

// not: NOT[], 0x5C
// Pops:   e
// Pushes: e
// Does:   not e
// Spec:   Logical functions
func (m *Machine) not() { m.push(truth(m.pop() == 0)) }

func truth(b bool) int32 {
	if b {
		return 1
	}
	return 0
}
