package bytecode

// Chapter "Arithmetic and math instructions".

// add: ADD[], 0x60
// Pops:   n1, n2
// Pushes: n
// Does:   n1 + n2
// Spec:   Arithmetic and math instructions
func (m *Machine) add() { b, a := m.pop(), m.pop(); m.push(a + b) }

// subtract: SUB[], 0x61
// Pops:   n1, n2
// Pushes: n
// Does:   n1 − n2
// Spec:   Arithmetic and math instructions
func (m *Machine) subtract() { b, a := m.pop(), m.pop(); m.push(a - b) }

// div: DIV[], 0x62
// Pops:   n1, n2, 26.6
// Pushes: n, 26.6
// Does:   n1 / n2, towards 0
// Spec:   Arithmetic and math instructions
func (m *Machine) div() {
	b, a := m.pop(), m.pop()
	if b == 0 {
		m.fail("DIV by zero")
		return
	}
	m.push(mulDivDown(a, 64, b))
}

// mul: MUL[], 0x63
// Pops:   n1, n2, 26.6
// Pushes: n, 26.6
// Does:   n1 × n2
// Spec:   Arithmetic and math instructions
func (m *Machine) mul() { b, a := m.pop(), m.pop(); m.push(mulDiv(a, b, 64)) }

// absolute: ABS[], 0x64
// Pops:   n
// Pushes: n
// Does:   n without its sign
// Spec:   Arithmetic and math instructions
func (m *Machine) absolute() { m.push(abs(m.pop())) }

// neg: NEG[], 0x65
// Pops:   n
// Pushes: n
// Does:   −n
// Spec:   Arithmetic and math instructions
func (m *Machine) neg() { m.push(-m.pop()) }

// floor: FLOOR[], 0x66
// Pops:   n, 26.6
// Pushes: n, 26.6
// Does:   the largest whole number not above n
// Spec:   Arithmetic and math instructions
func (m *Machine) floor() { m.push(m.pop() &^ 63) }

// ceiling: CEILING[], 0x67
// Pops:   n, 26.6
// Pushes: n, 26.6
// Does:   the smallest whole number not below n
// Spec:   Arithmetic and math instructions
func (m *Machine) ceiling() { m.push((m.pop() + 63) &^ 63) }

// maximum: MAX[], 0x8B
// Pops:   n1, n2
// Pushes: n
// Does:   the larger one
// Spec:   Arithmetic and math instructions
func (m *Machine) maximum() { b, a := m.pop(), m.pop(); m.push(max(a, b)) }

// minimum: MIN[], 0x8C
// Pops:   n1, n2
// Pushes: n
// Does:   the smaller one
// Spec:   Arithmetic and math instructions
func (m *Machine) minimum() { b, a := m.pop(), m.pop(); m.push(min(a, b)) }
