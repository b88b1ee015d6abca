package face

import (
	"fmt"

	"smokeproof/harness/glyph"
)

// Limits of the charstring languages (TN5177, appendix B; Type 1 book, chapter
// 6), and one of ours: subroutines that call each other can make a few bytes run
// for ever, so the steps of one glyph are bounded. The busiest glyph among the
// 237,000 that make outlines reads takes 282.
const (
	maxOperands = 48
	maxNesting  = 10
	maxStems    = 96
	maxSteps    = 1 << 17
)

// machine is what the two charstring languages share.
type machine struct {
	plotter
	type2   bool
	stack   []fix // bottom first
	steps   int
	located bool // the fault has its place
}

func (m *machine) push(v fix) {
	if len(m.stack) >= maxOperands {
		m.fail("more than %d operands", maxOperands)
		return
	}
	m.stack = append(m.stack, v)
}

func (m *machine) pop() fix {
	n := len(m.stack)
	if n == 0 {
		m.fail("an operand is missing")
		return 0
	}
	v := m.stack[n-1]
	m.stack = m.stack[:n-1]
	return v
}

// popInt is a whole number; a fraction is cut off.
func (m *machine) popInt() int { return int(m.pop() >> 16) }

// take empties the stack of exactly n operands; one fault covers all that lack.
func (m *machine) take(operator string, n int) []fix {
	if len(m.stack) != n {
		m.fail("%s has %d operands, takes %d", operator, len(m.stack), n)
		return make([]fix, n)
	}
	return m.clear()
}

// clear empties the stack; what it gives is valid until the next push.
func (m *machine) clear() []fix {
	all := m.stack
	m.stack = m.stack[:0]
	return all
}

// number pushes the number that begins at byte at and gives the byte after it.
// Both languages write small numbers alike; after 255, Type 2 has a 16.16 number
// and Type 1 a whole one (TN5177, table 1; Type 1 book 6.2).
func (m *machine) number(code []byte, at int) int {
	b := int(code[at])
	size := 1
	switch {
	case b == 255:
		size = 5
	case b == 28:
		size = 3
	case b >= 247:
		size = 2
	}
	if at+size > len(code) {
		m.fail("the charstring ends in the middle of a number")
		return len(code)
	}
	switch {
	case b == 28:
		m.push(fix(int16(code[at+1])<<8|int16(code[at+2])) << 16)
	case b <= 246:
		m.push(fix(b-139) << 16)
	case b <= 250:
		m.push(fix((b-247)*256+int(code[at+1])+108) << 16)
	case b <= 254:
		m.push(fix(-(b-251)*256-int(code[at+1])-108) << 16)
	default:
		v := fix(int32(code[at+1])<<24 | int32(code[at+2])<<16 | int32(code[at+3])<<8 | int32(code[at+4]))
		if !m.type2 {
			v *= fixOne
		}
		m.push(v)
	}
	return at + size
}

// language is what the operators of a charstring do. Two-byte operators follow 12
// in both languages.
type language interface {
	// operator runs one whose operand bytes, if it has any, begin at byte at; it
	// gives the byte to go on from.
	operator(op byte, code []byte, at, depth int) (next int, e ending)
	escape(op byte) ending
}

// ending says how a charstring goes on after an operator.
type ending uint8

const (
	goesOn  ending = iota
	returns        // to the charstring that called this one
	ends           // the glyph
)

// execute runs code and gives true once the glyph is ended. Code that stops
// without endchar or return ends there, as engines have it.
func (m *machine) execute(l language, code []byte, here place, depth int) (ended bool) {
	for at := 0; at < len(code) && m.fault == ""; {
		start, b, e := at, code[at], goesOn
		switch {
		case b >= 32 || b == op2ShortInt && m.type2:
			at = m.number(code, at)
		case !m.work():
		case b != opEscape:
			at, e = l.operator(b, code, at+1, depth)
		case at+1 == len(code):
			m.fail("the charstring ends in the middle of an operator")
		default:
			e = l.escape(code[at+1])
			at += 2
		}
		m.locate(here, start, depth)
		if e != goesOn {
			return e == ends
		}
	}
	return false
}

// opEscape leads the operators of two bytes.
const opEscape = 12

// work counts a step and says whether the charstring may go on.
func (m *machine) work() bool {
	if m.steps++; m.steps > maxSteps {
		m.fail("more than %d steps; subroutines may call each other without end", maxSteps)
	}
	return m.fault == ""
}

// standardGlyph is the part of a composite that stands at a code of StandardEncoding, as
// seac and endchar count.
func (m *machine) standardGlyph(byName map[string]int, code int) int {
	if code >= 0 && code < len(standardEncoding) && standardEncoding[code] != "" {
		if i, ok := byName[standardEncoding[code]]; ok {
			return i
		}
	}
	m.fail("a composite wants character %d of StandardEncoding, which the font does not have", code)
	return -1
}

// place is a piece of charstring code in the font, for messages.
type place struct {
	what   string
	number int // -1 for the glyph's own charstring
}

func (p place) String() string {
	if p.number < 0 {
		return p.what
	}
	return fmt.Sprintf("%s %d", p.what, p.number)
}

var ownCharstring = place{"charstring", -1}

// newMachine readies a machine for a charstring, with room for about as many
// points as one of its length draws.
func newMachine(code []byte, type2 bool) *machine {
	m := &machine{type2: type2, stack: make([]fix, 0, maxOperands)}
	m.drawing.Outline.Points = make([]glyph.Point, 0, min(len(code)/3+4, maxPoints))
	return m
}

// locate says where a fault lies: the byte where it happened, and the byte of
// the glyph's own charstring that led there.
func (m *machine) locate(here place, at, depth int) {
	switch {
	case m.fault == "":
	case !m.located:
		m.located = true
		m.fault = fmt.Sprintf("byte %d of the %s: %s", at, here, m.fault)
	case depth == 0:
		m.fault = fmt.Sprintf("byte %d of the %s, then %s", at, here, m.fault)
	}
}

// div is a / b, rounded half away from zero. Operands are within 2^47, so that
// only the one number of 2^31 units could overflow; it is no length.
func (a fix) div(b fix) fix {
	if b == 0 {
		return 0
	}
	neg := a < 0 != (b < 0)
	if a < 0 {
		a = -a
	}
	if b < 0 {
		b = -b
	}
	q := (a<<16 + b/2) / b
	if neg {
		return -q
	}
	return q
}
