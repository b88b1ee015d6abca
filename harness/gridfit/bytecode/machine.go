package bytecode

// Machine runs a face's programs at one size. It is for one goroutine.
type Machine struct {
	font        *Font
	definitions definitions

	// What prep left, and what the glyph at work made of it.
	storage, sizedStorage []int32
	cvt, sizedCVT         []F26Dot6
	sizedTwilight         Zone
	gs, sized             graphicsState

	glyph       *Zone // the points of the glyph at work
	twilight    Zone  // as much of allTwilight as the program at work can reach
	allTwilight Zone
	zp          [3]*Zone // what gs.zp points at

	size  Size
	scale int32 // 16.16, font units to 26.6 for control values; a composite's program keeps it
	vectors

	// The run.
	programs [3][]byte // by part
	running  part      // the program that was started
	in       part      // the program that holds the instruction at work
	code     []byte    // its bytes
	pc       int       // of the instruction at work
	next     int       // where the one after it stands
	opcode   byte
	stack    []int32
	top      int // values on the stack
	calls    []frame
	fault    string // why the run ends; "" while all is well

	maxLoops, loops, jumps int    // see limits.go
	budget                 Budget // what the glyph may still take

	// What a glyph's program changed and has to be put back.
	storageChanged, cvtChanged, twilightUsed bool

	alone bool // see Alone
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

// spareStack is what FreeType adds to the depth that maxp promises; shipped
// fonts need it (ttinterp.c, TT_Load_Context).
const spareStack = 32

func (f *Font) machine() *Machine {
	p := &f.program
	m := &Machine{
		font:    f,
		storage: make([]int32, p.Storage), cvt: make([]F26Dot6, len(p.CVT)),
		stack: make([]int32, p.Stack+spareStack), calls: make([]frame, 0, maxCalls),
		glyph: &Zone{}, gs: defaultState(), budget: glyphBudget,
		programs: [3][]byte{fpgm: p.Fpgm, prep: p.Prep},
	}
	m.allTwilight.Resize(p.Twilight)
	return m
}

// NewMachine scales the control values to a size and runs the control value
// program. With its error, an [*Error], comes a Machine that must not be used.
func (f *Font) NewMachine(s Size) (*Machine, error) {
	m := f.machine()
	m.definitions = f.definitions
	m.definitions.shared = true
	m.size, m.scale = s, s.scale()
	for i, v := range f.program.CVT {
		m.cvt[i] = MulFix(int32(v)*64, m.scale>>6)
	}
	if err := m.run(prep, noGlyph); err != nil {
		return m, err
	}
	m.sized = m.gs.afterPrep()
	if m.sized.instructControl&2 != 0 {
		m.sized = defaultState()
		m.sized.instructControl = m.gs.instructControl
	}
	m.sizedCVT = append([]F26Dot6(nil), m.cvt...)
	m.sizedStorage = append([]int32(nil), m.storage...)
	m.sizedTwilight.Resize(f.program.Twilight)
	m.sizedTwilight.copyPlaces(&m.allTwilight)
	m.Begin()
	return m, nil
}

// Off says that the control value program switched glyph programs off.
func (m *Machine) Off() bool { return m.sized.instructControl&1 != 0 }

// Begin readies the machine for a glyph. Whatever the glyphs before it did, it
// starts from what prep left.
func (m *Machine) Begin() {
	m.gs = m.sized
	m.budget = glyphBudget
	if m.twilightUsed {
		m.allTwilight.copyPlaces(&m.sizedTwilight)
		m.twilightUsed = false
	}
}

// Run runs the program of a glyph, or of a component, over its points; an empty
// one leaves them alone. Control values and storage that it changes are as before
// for the next program. composite says that the points are those of a composite,
// which knows no font units. With an [*Error], what had moved stays moved.
func (m *Machine) Run(z *Zone, program []byte, index int, composite bool) error {
	m.gs, m.alone = m.sized, true
	if len(program) == 0 {
		return nil
	}
	m.glyph = z
	before := m.twilightUsed
	m.twilightUsed = false
	size := m.size
	if composite {
		m.size.ScaleX, m.size.ScaleY = 1<<16, 1<<16
	}
	m.programs[glyf] = program
	err := m.run(glyf, index)
	m.size = size
	m.alone, m.twilightUsed = !m.twilightUsed, m.twilightUsed || before
	if m.cvtChanged {
		copy(m.cvt, m.sizedCVT)
		m.cvtChanged = false
	}
	if m.storageChanged {
		copy(m.storage, m.sizedStorage)
		m.storageChanged = false
	}
	return err
}

// Alone says that what the last program did hangs on its points alone: that it did
// not use the twilight zone, in which programs before it may have left something.
func (m *Machine) Alone() bool { return m.alone }

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
