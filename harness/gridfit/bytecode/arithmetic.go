package bytecode

// arithmetic compares and computes ("Logical functions", "Arithmetic and math
// instructions").
func (m *Machine) arithmetic(op byte) {
	switch op {
	case 0x56, 0x57: // ODD, EVEN: distance → e, after rounding
		odd := m.gs.round.round(m.pop())&127 == 64
		m.push(truth(odd == (op == 0x56)))
	case 0x5C: // NOT
		m.push(truth(m.pop() == 0))
	case 0x64: // ABS
		m.push(abs(m.pop()))
	case 0x65: // NEG
		m.push(-m.pop())
	case 0x66: // FLOOR
		m.push(m.pop() &^ 63)
	case 0x67: // CEILING
		m.push((m.pop() + 63) &^ 63)
	case 0x68, 0x69, 0x6A, 0x6B: // ROUND[ab]; engine compensation is zero
		m.push(m.gs.round.round(m.pop()))
	case 0x6C, 0x6D, 0x6E, 0x6F: // NROUND[ab]: nothing to compensate
	default:
		b, a := m.pop(), m.pop()
		m.push(m.binary(op, a, b))
	}
}

func (m *Machine) binary(op byte, a, b int32) int32 {
	switch op {
	case 0x50: // LT
		return truth(a < b)
	case 0x51: // LTEQ
		return truth(a <= b)
	case 0x52: // GT
		return truth(a > b)
	case 0x53: // GTEQ
		return truth(a >= b)
	case 0x54: // EQ
		return truth(a == b)
	case 0x55: // NEQ
		return truth(a != b)
	case 0x5A: // AND
		return truth(a != 0 && b != 0)
	case 0x5B: // OR
		return truth(a != 0 || b != 0)
	case 0x60: // ADD
		return a + b
	case 0x61: // SUB
		return a - b
	case 0x62: // DIV: 26.6
		if b == 0 {
			m.fail("DIV by zero")
		}
		return mulDivDown(a, 64, b)
	case 0x63: // MUL: 26.6
		return mulDiv(a, b, 64)
	case 0x8B: // MAX
		return max(a, b)
	case 0x8C: // MIN
		return min(a, b)
	}
	m.fail("the opcode is not defined")
	return 0
}

func truth(b bool) int32 {
	if b {
		return 1
	}
	return 0
}
