package bytecode

// run runs a program from its first byte to its last, or to its first fault.
func (m *Machine) run(p part, index int) error {
	m.start(p)
	budget := min(maxSteps, m.budget.steps)
	left := budget
	for m.next < len(m.code) && m.fault == "" {
		if left--; left < 0 {
			m.pc = m.next
			m.fail("more than %d instructions; the program may loop for ever", budget)
			break
		}
		m.step()
	}
	m.budget.steps -= budget - max(left, 0)
	if m.fault == "" && len(m.calls) > 0 {
		m.fail("a function ends without ENDF")
	}
	if m.fault != "" {
		return &Error{m.running.String(), index, m.in.String(), m.pc, m.opcode, m.fault}
	}
	return nil
}

// start readies the machine for the first instruction of a program.
func (m *Machine) start(p part) {
	m.running, m.in, m.code = p, p, m.programs[p]
	m.next, m.top, m.calls, m.fault = 0, 0, m.calls[:0], ""
	points := 0
	if p == glyf {
		points = len(m.glyph.Touched)
	}
	m.maxLoops, m.loops, m.jumps = m.font.loopsFor(points), 0, 0
	if n := m.font.twilightFor(points, len(m.cvt)); n != len(m.twilight.Touched) {
		m.twilight.first(n, &m.allTwilight)
	}
	for i := range m.zp {
		m.pointAt(i, m.gs.zp[i])
	}
	m.readyVectors()
}

// step runs the instruction at next. Where the stack holds fewer values than it
// pops, it is given zeros for all of them, as by FreeType (ttinterp.c, TT_RunIns).
func (m *Machine) step() {
	code, pc := m.code, m.next
	op := code[pc]
	in := &instructions[op]
	next := pc + int(in.length)
	if in.length == 0 {
		next = after(code, pc)
	}
	m.opcode, m.pc, m.next = op, pc, next
	if next > len(code) {
		m.fail("the program ends inside the instruction")
		return
	}
	if pops := int(in.pops); m.top < pops {
		clear(m.stack[:pops])
		m.top = pops
	}
	if m.top+int(in.grows) > len(m.stack) {
		m.failFull()
		return
	}
	in.run(m)
}

func (m *Machine) failFull() {
	m.fail("the stack is full; maxp allows %d values", len(m.stack)-spareStack)
}

// push puts a value on the stack; step and pushInline see to the room.
func (m *Machine) push(v int32) {
	m.stack[m.top] = v
	m.top++
}

// pop takes the top value; step sees to it that there is one.
func (m *Machine) pop() int32 {
	m.top--
	return m.stack[m.top]
}

// popPoint takes a point's number, which has 16 bits.
func (m *Machine) popPoint() int { return int(uint16(m.pop())) }
