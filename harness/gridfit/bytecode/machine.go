package bytecode

import "fmt"

// Program is what a face brings: its programs, control values and the sizes it asks for.
type Program struct {
	Fpgm, Prep               []byte
	CVT                      []int16 // font units
	Storage, Twilight, Stack int
}

// Machine runs one face's programs. It is for one goroutine.
type Machine struct {
	program   Program
	functions map[int32]code
	instr     map[byte]code // IDEF

	storage, storageCopy []int32
	cvt                  []F26Dot6
	cvtCopy              []F26Dot6
	stack                []int32
	twilight             Zone
	glyph                *Zone

	size      Size
	scale     int32 // 16.16, font units to 26.6 for control values; a composite's program keeps it
	gs, sized graphicsState
	pDot      int32 // projection · freedom, 2.14

	code   code
	pc     int
	opcode byte
	calls  []frame
	budget int
	inPrep bool
}

// code is a stretch of a program.
type code struct {
	bytes   []byte
	start   int
	program string // "fpgm", "prep" or "glyf"
}

type frame struct {
	code  code
	pc    int
	count int32
	body  code
}

// Size is what a program sees of the size: scales in 16.16 from font units to
// 26.6, and whole ppem.
type Size struct {
	ScaleX, ScaleY int32
	PPEMX, PPEMY   int
}

func (s Size) scale() int32 {
	if s.PPEMX >= s.PPEMY {
		return s.ScaleX
	}
	return s.ScaleY
}

// Limits on what a program may do, each far above what shipped fonts need.
const (
	maxCalls = 64
	// maxSteps bounds one program's instructions. The heaviest CJK glyphs run
	// some 200,000; a program that loops for ever ends here, in well under a second.
	maxSteps = 2_000_000
)

// New prepares a machine and runs the font program. A font program that fails
// leaves what it had defined.
func New(p Program) (*Machine, error) {
	m := &Machine{
		program: p, functions: map[int32]code{}, instr: map[byte]code{},
		storage: make([]int32, p.Storage), storageCopy: make([]int32, p.Storage),
		cvt: make([]F26Dot6, len(p.CVT)), cvtCopy: make([]F26Dot6, len(p.CVT)),
		stack: make([]int32, 0, p.Stack+32),
	}
	m.twilight.Resize(p.Twilight)
	m.gs = defaultState()
	m.glyph = &Zone{}
	m.size = Size{PPEMX: 0, PPEMY: 0}
	if len(p.Fpgm) > 0 {
		if err := m.run(code{p.Fpgm, 0, "fpgm"}); err != nil {
			return m, err
		}
	}
	return m, nil
}

// SetSize scales the control values and runs the control value program.
func (m *Machine) SetSize(s Size) error {
	m.size, m.scale = s, s.scale()
	for i, v := range m.program.CVT {
		m.cvt[i] = MulFix(int32(v)*64, m.scale>>6)
	}
	clear(m.storage)
	m.twilight.Resize(m.program.Twilight)
	m.gs = defaultState()
	m.glyph = &Zone{}
	var err error
	if len(m.program.Prep) > 0 {
		m.inPrep = true
		err = m.run(code{m.program.Prep, 0, "prep"})
		m.inPrep = false
	}
	m.sized = m.gs.afterPrep()
	copy(m.cvtCopy, m.cvt)
	copy(m.storageCopy, m.storage)
	return err
}

// Off says that the control value program switched glyph programs off.
func (m *Machine) Off() bool { return m.sized.instructControl&1 != 0 }

// Begin readies the machine for a glyph: its state is what prep left.
func (m *Machine) Begin() { m.gs = m.sized }

// Run runs a glyph's program over its points. Control values and storage that
// it changes are as before for the next glyph. composite says that the points
// are those of a composite, which knows no font units.
func (m *Machine) Run(z *Zone, program []byte, composite bool) error {
	m.gs = m.sized
	if m.sized.instructControl&2 != 0 {
		m.gs = defaultState()
		m.gs.scanControl, m.gs.scanType = m.sized.scanControl, m.sized.scanType
	}
	m.glyph = z
	size := m.size
	if composite {
		m.size.ScaleX, m.size.ScaleY = 1<<16, 1<<16
	}
	err := m.run(code{program, 0, "glyf"})
	m.size = size
	copy(m.cvt, m.cvtCopy)
	copy(m.storage, m.storageCopy)
	return err
}

// Dropout is the mode that the last program asked for: SCANTYPE's argument, or
// -1 where SCANCTRL leaves it off.
func (m *Machine) Dropout() int {
	if !m.gs.scanControl {
		return -1
	}
	return int(m.gs.scanType)
}

// ScanType is SCANTYPE's argument as the last program left it, whether dropout
// control is on or off.
func (m *Machine) ScanType() int { return int(m.gs.scanType) }

// Error is a fault in a program: where it stood and what was wrong.
type Error struct {
	Program string // "fpgm", "prep" or "glyf"
	PC      int
	Opcode  byte
	What    string
}

func (e *Error) Error() string {
	return fmt.Sprintf("%s program, byte %d, opcode 0x%02X: %s", e.Program, e.PC, e.Opcode, e.What)
}

func (m *Machine) run(c code) (err error) {
	m.code, m.pc = c, 0
	m.calls = m.calls[:0]
	m.stack = m.stack[:0]
	m.budget = maxSteps
	m.compute()
	defer func() {
		if r := recover(); r != nil {
			f, ok := r.(fault)
			if !ok {
				panic(r)
			}
			err = &Error{m.code.program, m.code.start + m.pc, m.opcode, string(f)}
		}
	}()
	for m.step() {
	}
	return nil
}

// fault unwinds a program that cannot go on. It never leaves this package.
type fault string

func (m *Machine) fail(format string, args ...any) { panic(fault(fmt.Sprintf(format, args...))) }

// step runs one instruction; false at the end of the program.
func (m *Machine) step() bool {
	if m.pc >= len(m.code.bytes) {
		if len(m.calls) > 0 {
			m.fail("a function ends without ENDF")
		}
		return false
	}
	if m.budget--; m.budget < 0 {
		m.fail("more than %d instructions; the program may loop for ever", maxSteps)
	}
	at := m.pc
	m.opcode = m.code.bytes[at]
	m.pc = at + m.length(at)
	if m.pc > len(m.code.bytes) {
		m.pc = at
		m.fail("the program ends inside an instruction")
	}
	m.execute(m.opcode, at)
	return true
}

// length is the size of the instruction at a byte, with its inline data.
func (m *Machine) length(at int) int {
	b := m.code.bytes
	switch op := b[at]; {
	case op == opNPUSHB && at+1 < len(b):
		return 2 + int(b[at+1])
	case op == opNPUSHW && at+1 < len(b):
		return 2 + 2*int(b[at+1])
	case op == opNPUSHB || op == opNPUSHW:
		return 2
	case op >= opPUSHB && op < opPUSHW:
		return 2 + int(op-opPUSHB)
	case op >= opPUSHW && op < firstMDRP:
		return 3 + 2*int(op-opPUSHW)
	}
	return 1
}

func (m *Machine) push(v int32) {
	if len(m.stack) >= m.program.Stack+32 {
		m.fail("the stack is full; maxp allows %d values", m.program.Stack)
	}
	m.stack = append(m.stack, v)
}

// pop takes the top value; an empty stack gives zero, as lenient interpreters do.
func (m *Machine) pop() int32 {
	n := len(m.stack)
	if n == 0 {
		return 0
	}
	v := m.stack[n-1]
	m.stack = m.stack[:n-1]
	return v
}

// zone is the zone that zone pointer i points at.
func (m *Machine) zone(i int) *Zone {
	if m.gs.zp[i] == 0 {
		return &m.twilight
	}
	return m.glyph
}

// loop calls f for each of the points on the stack that SLOOP asked for.
func (m *Machine) loop(f func(p int32)) {
	for ; m.gs.loop > 0 && len(m.stack) > 0; m.gs.loop-- {
		f(m.pop())
	}
	m.gs.loop = 1
}
