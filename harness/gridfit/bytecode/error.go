package bytecode

import "fmt"

// part is one of a face's programs.
type part uint8

const (
	fpgm part = iota // the font program
	prep             // the control value program
	glyf             // a glyph's program
)

func (p part) String() string { return [...]string{"fpgm", "prep", "glyf"}[p] }

// noGlyph stands for the glyph of the face's own programs.
const noGlyph = -1

// Error is a fault in a program: which one ran, where it stood and what was wrong.
type Error struct {
	Program string // that ran: "fpgm", "prep" or "glyf"
	Glyph   int    // whose program ran; -1 for the face's own
	In      string // that holds the instruction: a function stands in fpgm or prep
	PC      int    // byte of that program
	Opcode  byte
	What    string
}

func (e *Error) Error() string {
	who := e.Program + " program"
	if e.Glyph != noGlyph {
		who = fmt.Sprintf("program of glyph %d", e.Glyph)
	}
	where := ""
	if e.In != e.Program {
		where = " in a function of " + e.In
	}
	return fmt.Sprintf("%s: byte %d%s, 0x%02X %s: %s", who, e.PC, where, e.Opcode, Name(e.Opcode), e.What)
}

// fail ends the run after this instruction. The first fault counts.
func (m *Machine) fail(format string, args ...any) {
	if m.fault == "" {
		m.fault = fmt.Sprintf(format, args...)
	}
}
