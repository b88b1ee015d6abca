package bytecode

// Chapters "Managing the flow of control" and "Defining and using functions and
// instructions".

// ifTrue: IF[], 0x58
// Pops:   e
// Pushes: nothing
// Does:   goes on behind ELSE or EIF where e is 0
// Spec:   Managing the flow of control
func (m *Machine) ifTrue() {
	if m.pop() == 0 {
		m.skip(true)
	}
}

// ifElse: ELSE[], 0x1B
// Pops:   nothing
// Pushes: nothing
// Does:   ends the true branch: goes on behind EIF
// Spec:   Managing the flow of control
func (m *Machine) ifElse() { m.skip(false) }

// ifEnd: EIF[], 0x59
// Pops:   nothing
// Pushes: nothing
// Does:   nothing; marks where IF ends
// Spec:   Managing the flow of control
func (m *Machine) ifEnd() {}

// skip goes on behind the branch not taken.
func (m *Machine) skip(elseCounts bool) {
	from := m.next
	if m.next = behindBranch(m.code, from, elseCounts); m.next > len(m.code) {
		m.fail("IF without EIF")
	}
	m.spend(m.next - from)
}

// behindBranch is where the code goes on after its ELSE, if that counts, or its EIF;
// past the end where there is none.
func behindBranch(code []byte, at int, elseCounts bool) int {
	for depth := 1; at < len(code); {
		op := code[at]
		at = after(code, at)
		switch {
		case op == opIF:
			depth++
		case op == opELSE && depth == 1 && elseCounts:
			return at
		case op == opEIF:
			if depth--; depth == 0 {
				return at
			}
		}
	}
	return len(code) + 1
}

// jmpr: JMPR[], 0x1C
// Pops:   n, bytes
// Pushes: nothing
// Does:   goes on n bytes from here
// Spec:   Managing the flow of control
func (m *Machine) jmpr() { m.jump(m.pop()) }

// jrot: JROT[], 0x78
// Pops:   n, bytes; e
// Pushes: nothing
// Does:   goes on n bytes from here unless e is 0
// Spec:   Managing the flow of control
func (m *Machine) jrot() {
	if e, n := m.pop(), m.pop(); e != 0 {
		m.jump(n)
	}
}

// jrof: JROF[], 0x79
// Pops:   n, bytes; e
// Pushes: nothing
// Does:   goes on n bytes from here if e is 0
// Spec:   Managing the flow of control
func (m *Machine) jrof() {
	if e, n := m.pop(), m.pop(); e == 0 {
		m.jump(n)
	}
}

func (m *Machine) jump(n int32) {
	to := m.pc + int(n)
	out := to < 0 || n == 0 && m.top == 0 // past the last byte a program just ends
	if len(m.calls) > 0 {
		out = out || to > m.calls[len(m.calls)-1].body.end
	}
	if out {
		m.fail("jump by %d leaves the program", n)
		return
	}
	if n < 0 {
		if m.jumps++; m.jumps > m.maxLoops {
			m.fail("more than %d jumps backwards; the program may loop for ever", m.maxLoops)
		}
	}
	m.next = to
}

// fdef: FDEF[], 0x2C
// Pops:   n
// Pushes: nothing
// Does:   defines function n as what follows, up to ENDF, and goes on behind that
// Spec:   Defining and using functions and instructions
func (m *Machine) fdef() {
	n, most := m.pop(), m.font.program.Functions
	d, ok := m.body()
	if !ok {
		return
	}
	_, again := m.definitions.function(int(n))
	if n < 0 || n > 0xFFFF || !again && m.definitions.defined >= most {
		m.fail("FDEF %d: maxp allows %d functions, numbered from 0", n, most)
		return
	}
	m.definitions.own()
	if !again {
		m.definitions.defined++
	}
	m.definitions.functions = put(m.definitions.functions, int(n), d)
}

// idef: IDEF[], 0x89
// Pops:   n, an opcode
// Pushes: nothing
// Does:   defines an opcode that the specification leaves free as what follows, up to
// ENDF, and goes on behind that
// Spec:   Defining and using functions and instructions
func (m *Machine) idef() {
	n, most := m.pop(), m.font.program.Instructions
	d, ok := m.body()
	if !ok {
		return
	}
	again := false
	if n >= 0 && n <= 0xFF {
		_, again = m.definitions.instruction(byte(n))
	}
	if n < 0 || n > 0xFF || !again && m.definitions.definedOps >= most {
		m.fail("IDEF 0x%02X: maxp allows %d instructions, of one byte", n, most)
		return
	}
	m.definitions.own()
	if !again {
		m.definitions.definedOps++
	}
	m.definitions.instructions = put(m.definitions.instructions, int(n), d)
}

// body finds the end of a definition and goes on behind it.
func (m *Machine) body() (definition, bool) {
	if m.running == glyf {
		m.fail("a definition in a glyph's program; it belongs into fpgm or prep")
		return definition{}, false
	}
	d := definition{in: m.in, start: m.next}
	for at := m.next; at < len(m.code); at = after(m.code, at) {
		switch m.code[at] {
		case opFDEF, opIDEF:
			m.fail("a definition inside a definition")
			return d, false
		case opENDF:
			d.end, m.next = at, at+1
			m.spend(d.end - d.start)
			return d, true
		}
	}
	m.fail("a definition without ENDF")
	return d, false
}

// call: CALL[], 0x2B
// Pops:   n, a function
// Pushes: nothing
// Does:   runs function n
// Spec:   Defining and using functions and instructions
func (m *Machine) call() { m.enterFunction(m.pop(), 1) }

// loopcall: LOOPCALL[], 0x2A
// Pops:   count; n, a function
// Pushes: nothing
// Does:   runs function n count times
// Spec:   Defining and using functions and instructions
func (m *Machine) loopcall() {
	n, count := m.pop(), m.pop()
	m.enterFunction(n, count)
	if m.loops += max(int(count), 0); m.loops > m.maxLoops {
		m.fail("more than %d rounds of LOOPCALL; the program may loop for ever", m.maxLoops)
	}
}

// endf: ENDF[], 0x2D
// Pops:   nothing
// Pushes: nothing
// Does:   ends a function or instruction: runs it again, or goes back to its caller
// Spec:   Defining and using functions and instructions
func (m *Machine) endf() {
	n := len(m.calls)
	if n == 0 {
		m.fail("ENDF outside a function")
		return
	}
	f := &m.calls[n-1]
	if f.count--; f.count > 0 {
		m.next = f.body.start
		return
	}
	m.goOn(f.in, f.next)
	m.calls = m.calls[:n-1]
}

// undefined: opcodes that the specification leaves free
// Pops:   as it was defined
// Pushes: as it was defined
// Does:   runs the instruction that IDEF made of the opcode
// Spec:   Defining and using functions and instructions
func (m *Machine) undefined() {
	d, ok := m.definitions.instruction(m.opcode)
	if !ok {
		m.fail("the opcode is not defined")
		return
	}
	m.enter(d, 1)
}

// frame is a call at work: where to go on after it, and how often it is still to run.
type frame struct {
	in    part
	next  int
	count int32
	body  definition
}

func (m *Machine) enterFunction(n, count int32) {
	d, ok := m.definitions.function(int(n))
	if !ok {
		m.fail("function %d is not defined", n)
		return
	}
	m.enter(d, count)
}

func (m *Machine) enter(d definition, count int32) {
	if len(m.calls) == maxCalls {
		m.fail("calls nest deeper than %d", maxCalls)
		return
	}
	if count > 0 {
		m.calls = append(m.calls, frame{m.in, m.next, count, d})
		m.goOn(d.in, d.start)
	}
}

// goOn has the next instruction come from a byte of a program.
func (m *Machine) goOn(in part, next int) { m.in, m.code, m.next = in, m.programs[in], next }
