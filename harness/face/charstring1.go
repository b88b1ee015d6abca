package face

import "smokeproof/harness/glyph"

// type1 runs the charstrings of Type 1 (Type 1 book, chapter 6).
type type1 struct {
	*machine
	font      *Type1
	results   []fix // what OtherSubrs left for pop, the top last
	flexing   bool
	flex      []vec // the reference point, then six
	flexStart vec
	counters  []fix // operands of OtherSubrs 12 so far
	widthOnly bool  // stop once the advance is known
	sized     bool  // hsbw or sbw was run
	part      bool  // of a composite already
}

// Operators (Type 1 book, appendix 2); two-byte ones follow 12.
const (
	op1HStem, op1VStem, op1VMoveTo, op1RLineTo                 = 1, 3, 4, 5
	op1HLineTo, op1VLineTo, op1RRCurveTo, op1ClosePath         = 6, 7, 8, 9
	op1CallSubr, op1Return, op1HSBW                            = 10, 11, 13
	op1EndChar, op1RMoveTo, op1HMoveTo, op1VHCurve, op1HVCurve = 14, 21, 22, 30, 31
	esc1DotSection, esc1VStem3, esc1HStem3, esc1Seac, esc1SBW  = 0, 1, 2, 6, 7
	esc1Div, esc1CallOtherSubr, esc1Pop, esc1SetCurrentPoint   = 12, 16, 17, 33
)

func (m *type1) operator(op byte, _ []byte, at, depth int) (next int, e ending) {
	switch op {
	case op1Return:
		return at, returns
	case op1EndChar:
		return at, ends
	case op1CallSubr:
		if m.call(depth) {
			return at, ends
		}
	default:
		m.draw(op)
		if op == op1HSBW && m.widthOnly {
			return at, ends
		}
	}
	return at, goesOn
}

func (m *type1) call(depth int) (ended bool) {
	i := m.popInt()
	switch {
	case m.fault != "":
	case depth >= maxNesting:
		m.fail("subroutines nest deeper than %d", maxNesting)
	case i < 0 || i >= len(m.font.subrs) || m.font.subrs[i] == nil:
		m.fail("subroutine %d is missing", i)
	default:
		return m.execute(m, m.font.subrs[i], place{"subroutine", i}, depth+1)
	}
	return false
}

func (m *type1) draw(op byte) {
	if !m.sized && op != op1HSBW {
		m.fail("a step before hsbw, which must come first")
		return
	}
	switch op {
	case op1HStem:
		a := m.take("hstem", 2)
		m.declare(glyph.AxisY, a[0], a[1])
	case op1VStem:
		a := m.take("vstem", 2)
		m.declare(glyph.AxisX, a[0], a[1])
	case op1HSBW:
		a := m.take("hsbw", 2)
		m.metrics(a[0], 0, a[1])
	case op1RMoveTo:
		a := m.take("rmoveto", 2)
		m.move(a[0], a[1])
	case op1HMoveTo:
		m.move(m.take("hmoveto", 1)[0], 0)
	case op1VMoveTo:
		m.move(0, m.take("vmoveto", 1)[0])
	case op1RLineTo:
		a := m.take("rlineto", 2)
		m.lineTo(a[0], a[1])
	case op1HLineTo:
		m.lineTo(m.take("hlineto", 1)[0], 0)
	case op1VLineTo:
		m.lineTo(0, m.take("vlineto", 1)[0])
	case op1RRCurveTo:
		m.curveTo([6]fix(m.take("rrcurveto", 6)))
	case op1VHCurve:
		a := m.take("vhcurveto", 4)
		m.curveTo([6]fix{0, a[0], a[1], a[2], a[3], 0})
	case op1HVCurve:
		a := m.take("hvcurveto", 4)
		m.curveTo([6]fix{a[0], 0, a[1], a[2], 0, a[3]})
	case op1ClosePath:
		m.clear()
		m.close()
	default:
		m.fail("operator %d is unknown", op)
	}
}

func (m *type1) escape(op byte) ending {
	switch op {
	case esc1DotSection: // which does nothing any more
		m.clear()
	case esc1VStem3:
		m.stem3(glyph.AxisX, "vstem3")
	case esc1HStem3:
		m.stem3(glyph.AxisY, "hstem3")
	case esc1Seac:
		a := m.take("seac", 5)
		m.composite(a[0], a[1], a[2], int(a[3]>>16), int(a[4]>>16))
		return ends
	case esc1SBW:
		a := m.take("sbw", 4)
		m.metrics(a[0], a[1], a[2])
		if m.widthOnly {
			return ends
		}
	case esc1Div:
		b, a := m.pop(), m.pop()
		if b == 0 {
			m.fail("a division by zero")
		}
		m.push(a.div(b))
	case esc1CallOtherSubr:
		m.otherSubr()
	case esc1Pop:
		n := len(m.results)
		if n == 0 {
			m.fail("pop, and no result to pop")
			break
		}
		m.push(m.results[n-1])
		m.results = m.results[:n-1]
	case esc1SetCurrentPoint: // the pen is there already
		m.take("setcurrentpoint", 2)
	default:
		m.fail("operator 12 %d is unknown", op)
	}
	return goesOn
}

// metrics sets the left sidebearing point, where the pen starts and stems are
// counted from, and the advance.
func (m *type1) metrics(sx, sy, advance fix) {
	m.sized = true
	m.dx, m.dy = m.dx+sx, m.dy+sy
	m.x, m.y = m.dx, m.dy
	if !m.part {
		m.drawing.Advance = advance.units()
	}
}

// move begins a contour; inside a flex it only steps to the flex's next point.
func (m *type1) move(dx, dy fix) {
	if m.flexing {
		m.step(dx, dy)
		return
	}
	m.moveTo(dx, dy)
}

// stem3 declares three stems whose counters are to be equal.
func (m *type1) stem3(axis glyph.Axis, operator string) {
	if !m.sized {
		m.fail("a step before hsbw, which must come first")
		return
	}
	a := m.take(operator, 6)
	var group []int
	for i := 0; i < 6; i += 2 {
		group = append(group, m.declare(axis, a[i], a[i+1]))
	}
	if m.fault == "" {
		m.counter(group)
	}
}

// composite sets an accent over a base; both are named by their codes in
// StandardEncoding. The accent's own sidebearing point falls on
// (sb - asb + adx, ady) (Type 1 book 6.4, seac; FreeType's reading of it).
func (m *type1) composite(asb, adx, ady fix, base, accent int) {
	if m.part {
		m.fail("a part of a composite is itself a composite")
		return
	}
	sb := m.dx
	m.component(base, 0, 0)
	m.component(accent, sb-asb+adx, ady)
}

func (m *type1) component(code int, dx, dy fix) {
	index := m.standardGlyph(m.font.byName, code)
	if m.fault != "" {
		return
	}
	m.close()
	m.inForce(nil)
	m.stack = m.stack[:0]
	m.dx, m.dy = dx, dy
	part := type1{machine: m.machine, font: m.font, part: true}
	part.execute(&part, m.font.chars[index].code, place{"charstring of glyph", index}, 0)
	m.close()
}
