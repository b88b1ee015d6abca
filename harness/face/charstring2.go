package face

import "smokeproof/harness/glyph"

// type2 runs the charstrings of CFF (TN5177).
type type2 struct {
	*machine
	font  *CFF
	dict  *fontDict
	bits  []int // of a mask → hint
	width fix   // over the nominal one
	wide  bool  // the width was given
	seen  bool  // the operator that may carry the width is past
	part  bool  // of a composite already
	store [32]fix
	seed  uint32
}

// Operators (TN5177, appendix A); two-byte ones follow 12.
const (
	op2HStem, op2VStem, op2VMoveTo             = 1, 3, 4
	op2RLineTo, op2HLineTo, op2VLineTo         = 5, 6, 7
	op2RRCurveTo, op2CallSubr, op2Return       = 8, 10, 11
	op2EndChar, op2HStemHM                     = 14, 18
	op2HintMask, op2CntrMask, op2RMoveTo       = 19, 20, 21
	op2HMoveTo, op2VStemHM, op2RCurveLine      = 22, 23, 24
	op2RLineCurve, op2VVCurveTo, op2HHCurve    = 25, 26, 27
	op2ShortInt, op2CallGSubr, op2VHCurve      = 28, 29, 30
	op2HVCurveTo                               = 31
	esc2HFlex, esc2Flex, esc2HFlex1, esc2Flex1 = 34, 35, 36, 37
)

func (m *type2) operator(op byte, code []byte, at, depth int) (next int, e ending) {
	switch op {
	case op2Return:
		return at, returns
	case op2EndChar:
		m.endChar()
		return at, ends
	case op2CallSubr, op2CallGSubr:
		if m.call(op == op2CallGSubr, depth) {
			return at, ends
		}
	case op2HintMask, op2CntrMask:
		at = m.mask(code, at, op == op2HintMask)
	default:
		m.draw(op)
	}
	return at, goesOn
}

func (m *type2) call(global bool, depth int) (ended bool) {
	subrs, there := &m.dict.local, place{what: "local subroutine"}
	if global {
		subrs, there.what = &m.font.global, "global subroutine"
	}
	there.number = m.popInt() + subrBias(subrs.count)
	if m.fault != "" {
		return false
	}
	if depth >= maxNesting {
		m.fail("subroutines nest deeper than %d", maxNesting)
		return false
	}
	code, err := subrs.get(there.number)
	if err != nil {
		m.fail("%s: %v", there, err)
		return false
	}
	return m.execute(m, code, there, depth+1)
}

// subrBias is what a subroutine's number is counted from (TN5177, section 4.7).
func subrBias(count int) int {
	switch {
	case count < 1240:
		return 107
	case count < 33900:
		return 1131
	}
	return 32768
}

// first takes the width off the bottom of the stack, where the first operator
// that clears the stack has one operand more than it needs (TN5177, section 3.1).
func (m *type2) first(extra bool) {
	if !m.seen && extra && len(m.stack) > 0 {
		m.width, m.wide = m.stack[0], true
		m.stack = append(m.stack[:0], m.stack[1:]...)
	}
	m.seen = true
}

func (m *type2) stems(axis glyph.Axis) {
	m.first(len(m.stack)%2 == 1)
	if len(m.stack)%2 == 1 {
		m.fail("a stem has an edge and no width")
	}
	a := m.clear()
	if len(m.bits)+len(a)/2 > maxStems {
		m.fail("more than %d stems", maxStems)
		return
	}
	at := fix(0)
	for i := 0; i+1 < len(a); i += 2 {
		at += a[i]
		m.bits = append(m.bits, m.declare(axis, at, a[i+1]))
		at += a[i+1]
	}
}

// mask reads the bytes behind hintmask or cntrmask. Operands that stand before
// the first mask are vertical stems (TN5177, section 4.3).
func (m *type2) mask(code []byte, at int, hints bool) int {
	m.stems(glyph.AxisX)
	size := (len(m.bits) + 7) / 8
	if at+size > len(code) {
		m.fail("the charstring ends in the middle of a mask of %d bytes", size)
		return len(code)
	}
	var on []int
	for i, hint := range m.bits {
		if code[at+i/8]&(0x80>>(i%8)) != 0 {
			on = append(on, hint)
		}
	}
	if hints {
		m.inForce(on)
	} else {
		for _, axis := range []glyph.Axis{glyph.AxisY, glyph.AxisX} {
			var group []int
			for _, i := range on {
				if m.drawing.Hints[i].Axis == axis {
					group = append(group, i)
				}
			}
			m.counter(group)
		}
	}
	return at + size
}

// endChar ends the glyph; with four operands it is an accent over a base, named
// by their codes in StandardEncoding (TN5177, appendix C).
func (m *type2) endChar() {
	n := len(m.stack)
	m.first(n == 1 || n == 5)
	m.close()
	if a := m.clear(); len(a) >= 4 {
		a = a[len(a)-4:]
		m.composite(a[0], a[1], int(a[2]>>16), int(a[3]>>16))
	}
}

func (m *type2) composite(dx, dy fix, base, accent int) {
	if m.part {
		m.fail("a part of a composite is itself a composite")
		return
	}
	m.component(base, 0, 0)
	m.component(accent, dx, dy)
}

func (m *type2) component(code int, dx, dy fix) {
	index := m.standardGlyph(m.font.byName, code)
	if m.fault != "" {
		return
	}
	chars, err := m.font.chars.get(index)
	if err != nil {
		m.fail("component glyph %d: %v", index, err)
		return
	}
	m.close()
	m.inForce(nil)
	m.x, m.y, m.dx, m.dy = dx, dy, dx, dy
	part := type2{machine: m.machine, font: m.font, dict: m.dict, part: true}
	part.execute(&part, chars, place{"charstring of glyph", index}, 0)
	m.close()
}
