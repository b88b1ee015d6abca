package bytecode

// delta runs DELTAP1 to 3 and DELTAC1 to 3: n, then n pairs of argument and
// point (or control value) →. Each pair moves its target at one ppem ("Managing exceptions").
func (m *Machine) delta(op byte) {
	n := m.pop()
	ppem := m.ppem()
	base := m.gs.deltaBase
	switch op {
	case 0x71, 0x74: // DELTAP2, DELTAC2
		base += 16
	case 0x72, 0x75: // DELTAP3, DELTAC3
		base += 32
	}
	onPoints := op == 0x5D || op == 0x71 || op == 0x72
	for ; n > 0 && len(m.stack) >= 2; n-- {
		target, arg := m.pop(), m.pop()
		if ppem != arg>>4&15+base {
			continue
		}
		steps := arg&15 - 8
		if steps >= 0 {
			steps++
		}
		d := steps * (1 << (6 - m.gs.deltaShift))
		switch {
		case !onPoints:
			m.moveCVT(target, d)
		case m.zone(0).has(target):
			m.move(m.zone(0), target, d)
		}
	}
}

func (m *Machine) moveCVT(i int32, d F26Dot6) {
	if i < 0 || int(i) >= len(m.cvt) {
		return
	}
	if !m.square() {
		d = DivFix(d, m.ratio())
	}
	m.cvt[i] += d
}
