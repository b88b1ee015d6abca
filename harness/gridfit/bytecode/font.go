package bytecode

// Program is what a face brings: its programs, its control values, and what maxp
// says that they need.
type Program struct {
	Fpgm, Prep               []byte
	CVT                      []int16 // font units
	Glyphs                   int     // in the face; bounds the loops
	Storage, Twilight, Stack int
	Functions, Instructions  int // how many may be defined
}

// Font is a face whose font program has run: what it defined, which every size
// uses. It is never changed again and safe for use by many goroutines.
type Font struct {
	program     Program
	definitions definitions
}

// NewFont runs the font program. With its error, an [*Error], comes a Font that
// must not be used: a face half defined fits nothing.
func NewFont(p Program) (*Font, error) {
	f := &Font{program: p}
	m := f.machine()
	if err := m.run(fpgm, noGlyph); err != nil {
		return f, err
	}
	f.definitions = m.definitions
	return f, nil
}

// definitions are the functions by number and the instructions by opcode.
type definitions struct {
	functions    []definition
	instructions []definition
	shared       bool // with the Font; to be copied before a change
	defined      int  // functions
	definedOps   int
}

// definition is the body of a function or instruction: where its first
// instruction stands and where its ENDF.
type definition struct {
	in         part
	start, end int // end is 0 where nothing is defined
}

// own makes the definitions the machine's own before it changes them.
func (d *definitions) own() {
	if !d.shared {
		return
	}
	d.functions = append([]definition(nil), d.functions...)
	d.instructions = append([]definition(nil), d.instructions...)
	d.shared = false
}

func (d *definitions) function(n int) (definition, bool) {
	if uint(n) >= uint(len(d.functions)) || d.functions[n].end == 0 {
		return definition{}, false
	}
	return d.functions[n], true
}

func (d *definitions) instruction(op byte) (definition, bool) {
	if int(op) >= len(d.instructions) || d.instructions[op].end == 0 {
		return definition{}, false
	}
	return d.instructions[op], true
}

// put enters a definition in one of the lists, which grows as far as needed.
func put(list []definition, at int, d definition) []definition {
	if at >= len(list) {
		list = append(list, make([]definition, at+1-len(list))...)
	}
	list[at] = d
	return list
}
