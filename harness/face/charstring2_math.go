package face

import "math"

// escape runs the two-byte operators (TN5177, sections 4.1, 4.4 to 4.6).
func (m *type2) escape(op byte) ending {
	switch op {
	case 0: // dotsection, which does nothing any more
		m.clear()
	case esc2HFlex, esc2Flex, esc2HFlex1, esc2Flex1:
		m.flex(op)
	case 3, 4, 10, 11, 12, 15, 24:
		b, a := m.pop(), m.pop()
		m.push(m.pair(op, a, b))
	case 5, 9, 14, 26:
		m.push(m.single(op, m.pop()))
	case 18: // drop
		m.pop()
	case 20: // put
		i, v := m.popInt(), m.pop()
		if m.stored(i) {
			m.store[i] = v
		}
	case 21: // get
		if i := m.popInt(); m.stored(i) {
			m.push(m.store[i])
		}
	case 22: // ifelse
		v2, v1, s2, s1 := m.pop(), m.pop(), m.pop(), m.pop()
		if v1 > v2 {
			s1 = s2
		}
		m.push(s1)
	case 23: // random
		m.push(m.random())
	case 27: // dup
		v := m.pop()
		m.push(v)
		m.push(v)
	case 28: // exch
		b, a := m.pop(), m.pop()
		m.push(b)
		m.push(a)
	case 29: // index
		i := max(m.popInt(), 0)
		if i >= len(m.stack) {
			m.fail("index reaches %d below the top of %d operands", i, len(m.stack))
			break
		}
		m.push(m.stack[len(m.stack)-1-i])
	case 30: // roll
		j, n := m.popInt(), m.popInt()
		m.roll(n, j)
	default:
		m.fail("operator 12 %d is unknown", op)
	}
	return goesOn
}

func (m *type2) pair(op byte, a, b fix) fix {
	switch op {
	case 3:
		return truth(a != 0 && b != 0)
	case 4:
		return truth(a != 0 || b != 0)
	case 10:
		return m.narrow(a + b)
	case 11:
		return m.narrow(a - b)
	case 12:
		if b == 0 {
			m.fail("a division by zero")
		}
		return m.narrow(a.div(b))
	case 15:
		return truth(a == b)
	}
	return m.narrow((a*b + 1<<15) >> 16)
}

func (m *type2) single(op byte, a fix) fix {
	switch op {
	case 5:
		return truth(a == 0)
	case 9:
		return max(a, -a)
	case 14:
		return -a
	}
	if a < 0 {
		m.fail("the square root of a negative number")
		return 0
	}
	// Below 2^47 a double holds the radicand, so the root is the same everywhere.
	return fix(math.Sqrt(float64(a << 16)))
}

func truth(b bool) fix {
	if b {
		return fixOne
	}
	return 0
}

// narrow keeps results in the 16.16 range that the language has, so that no
// product overflows.
func (m *type2) narrow(v fix) fix {
	if v > math.MaxInt32 || v < math.MinInt32 {
		m.fail("a result beyond 32767")
		return 0
	}
	return v
}

func (m *type2) stored(i int) bool {
	if i < 0 || i >= len(m.store) {
		m.fail("place %d of the store, which has %d", i, len(m.store))
		return false
	}
	return true
}

// random is above 0 and at most 1, and the same for the same glyph: a golden
// may depend on it.
func (m *type2) random() fix {
	m.seed = m.seed*1664525 + 1013904223
	return fix(m.seed>>16) + 1
}

// roll turns the top n operands upward by j.
func (m *type2) roll(n, j int) {
	if n < 0 || n > len(m.stack) {
		m.fail("roll of %d operands, there are %d", n, len(m.stack))
		return
	}
	if n == 0 {
		return
	}
	top := m.stack[len(m.stack)-n:]
	turned := make([]fix, n)
	for i, v := range top {
		turned[((i+j)%n+n)%n] = v
	}
	copy(top, turned)
}
