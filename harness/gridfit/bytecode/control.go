package bytecode

// control runs conditions, jumps, definitions and calls ("Managing the flow of
// control", "Defining and using functions and instructions").
func (m *Machine) control(op byte) {
	at := m.pc - 1
	switch op {
	case opIF: // IF: e →
		if m.pop() == 0 {
			m.skipTo(true)
		}
	case opELSE: // ELSE, met after the true branch
		m.skipTo(false)
	case opEIF:
	case 0x1C: // JMPR: offset →
		m.jump(at, m.pop())
	case 0x78, 0x79: // JROT, JROF: offset, e →
		e, off := m.pop(), m.pop()
		if (e != 0) == (op == 0x78) {
			m.jump(at, off)
		}
	case opFDEF: // FDEF: number →
		m.functions[m.pop()] = m.define()
	case opIDEF: // IDEF: opcode →
		m.instr[byte(m.pop())] = m.define()
	case opENDF:
		m.endFunction()
	case 0x2B: // CALL: function →
		m.call(m.function(m.pop()), 1)
	case 0x2A: // LOOPCALL: count, function →
		f, n := m.function(m.pop()), m.pop()
		if n > 0 {
			m.call(f, n)
		}
	}
}

func (m *Machine) jump(at int, off int32) {
	if off == 0 || at+int(off) < 0 {
		m.fail("jump by %d leaves the program", off)
	}
	if m.pc = at + int(off); m.pc > len(m.code.bytes) {
		m.pc = at
		m.fail("jump by %d leaves the program", off)
	}
}

// skipTo passes over the branch not taken, to its ELSE if that counts, or its EIF.
func (m *Machine) skipTo(elseCounts bool) {
	for depth := 1; ; {
		if m.pc >= len(m.code.bytes) {
			m.fail("IF without EIF")
		}
		op := m.code.bytes[m.pc]
		m.pc += m.length(m.pc)
		switch {
		case op == opIF:
			depth++
		case op == opELSE && depth == 1 && elseCounts:
			return
		case op == opEIF:
			if depth--; depth == 0 {
				return
			}
		}
	}
}

// define takes the body up to ENDF and passes over it.
func (m *Machine) define() code {
	body := code{start: m.code.start + m.pc, program: m.code.program}
	from := m.pc
	for m.pc < len(m.code.bytes) {
		switch m.code.bytes[m.pc] {
		case opFDEF, opIDEF:
			m.fail("a definition inside a definition")
		case opENDF:
			body.bytes = m.code.bytes[from : m.pc+1]
			m.pc++
			return body
		}
		m.pc += m.length(m.pc)
	}
	m.fail("a definition without ENDF")
	return body
}

func (m *Machine) function(n int32) code {
	f, ok := m.functions[n]
	if !ok {
		m.fail("function %d is not defined", n)
	}
	return f
}

func (m *Machine) call(f code, count int32) {
	if len(m.calls) >= maxCalls {
		m.fail("calls nest deeper than %d", maxCalls)
	}
	m.calls = append(m.calls, frame{m.code, m.pc, count, f})
	m.code, m.pc = f, 0
}

func (m *Machine) endFunction() {
	n := len(m.calls)
	if n == 0 {
		m.fail("ENDF outside a function")
	}
	f := &m.calls[n-1]
	if f.count--; f.count > 0 {
		m.pc = 0
		return
	}
	m.code, m.pc = f.code, f.pc
	m.calls = m.calls[:n-1]
}

// userDefined runs an IDEF, for an opcode that the specification leaves free.
func (m *Machine) userDefined(op byte) {
	f, ok := m.instr[op]
	if !ok {
		m.fail("the opcode is not defined")
	}
	m.call(f, 1)
}
