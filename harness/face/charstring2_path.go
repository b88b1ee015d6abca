package face

import "smokeproof/harness/glyph"

// draw runs the operators that clear the stack: stems, moves, lines and curves
// (TN5177, sections 4.1 to 4.3).
func (m *type2) draw(op byte) {
	switch op {
	case op2HStem, op2HStemHM:
		m.stems(glyph.AxisY)
	case op2VStem, op2VStemHM:
		m.stems(glyph.AxisX)
	case op2RMoveTo:
		m.first(len(m.stack) > 2)
		a := m.take("rmoveto", 2)
		m.moveTo(a[0], a[1])
	case op2HMoveTo:
		m.first(len(m.stack) > 1)
		m.moveTo(m.take("hmoveto", 1)[0], 0)
	case op2VMoveTo:
		m.first(len(m.stack) > 1)
		m.moveTo(0, m.take("vmoveto", 1)[0])
	case op2RLineTo:
		m.rest(m.lines(m.clear()))
	case op2HLineTo, op2VLineTo:
		level := op == op2HLineTo
		for _, d := range m.clear() {
			if level {
				m.lineTo(d, 0)
			} else {
				m.lineTo(0, d)
			}
			level = !level
		}
	case op2RRCurveTo:
		m.rest(m.curves(m.clear()))
	case op2RCurveLine:
		m.rest(m.lines(m.curves(m.clear())))
	case op2RLineCurve:
		a := m.clear()
		n := max(len(a)-6, 0)
		m.rest(m.lines(a[:n]))
		m.rest(m.curves(a[n:]))
	case op2VVCurveTo:
		m.likewise(false)
	case op2HHCurve:
		m.likewise(true)
	case op2VHCurve:
		m.alternating(false)
	case op2HVCurveTo:
		m.alternating(true)
	default:
		m.fail("operator %d is unknown", op)
	}
}

// rest fails where operands were left over.
func (m *type2) rest(a []fix) {
	if len(a) > 0 {
		m.fail("%d operands too many or too few", len(a))
	}
}

func (m *type2) lines(a []fix) []fix {
	for ; len(a) >= 2; a = a[2:] {
		m.lineTo(a[0], a[1])
	}
	return a
}

func (m *type2) curves(a []fix) []fix {
	for ; len(a) >= 6; a = a[6:] {
		m.curveTo([6]fix(a[:6]))
	}
	return a
}

// likewise draws curves that start and end level, or upright; an odd operand in
// front turns the first start.
func (m *type2) likewise(level bool) {
	a := m.clear()
	turn := fix(0)
	if len(a)%4 == 1 {
		turn, a = a[0], a[1:]
	}
	for ; len(a) >= 4; a = a[4:] {
		if level {
			m.curveTo([6]fix{a[0], turn, a[1], a[2], a[3], 0})
		} else {
			m.curveTo([6]fix{turn, a[0], a[1], a[2], 0, a[3]})
		}
		turn = 0
	}
	m.rest(a)
}

// alternating draws curves that start level and end upright and the other way
// round by turns; a fifth operand turns the last end.
func (m *type2) alternating(level bool) {
	a := m.clear()
	for len(a) >= 4 {
		turn, n := fix(0), 4
		if len(a) == 5 {
			turn, n = a[4], 5
		}
		if level {
			m.curveTo([6]fix{a[0], 0, a[1], a[2], turn, a[3]})
		} else {
			m.curveTo([6]fix{0, a[0], a[1], a[2], a[3], turn})
		}
		level, a = !level, a[n:]
	}
	m.rest(a)
}

// flexDepth is the height in hundredths of a pixel that all flex operators but
// one stand for (TN5177, section 4.1).
const flexDepth = 50 * fixOne

func (m *type2) flex(op byte) {
	switch op {
	case esc2HFlex:
		a := m.take("hflex", 7)
		m.flexTo([12]fix{a[0], 0, a[1], a[2], a[3], 0, a[4], 0, a[5], -a[2], a[6], 0}, flexDepth)
	case esc2Flex:
		a := m.take("flex", 13)
		m.flexTo([12]fix(a[:12]), a[12])
	case esc2HFlex1:
		a := m.take("hflex1", 9)
		m.flexTo([12]fix{a[0], a[1], a[2], a[3], a[4], 0, a[5], 0, a[6], a[7], a[8], -(a[1] + a[3] + a[7])}, flexDepth)
	case esc2Flex1:
		a := m.take("flex1", 11)
		var dx, dy fix
		for i := 0; i < 10; i += 2 {
			dx, dy = dx+a[i], dy+a[i+1]
		}
		d := [12]fix(append(append([]fix{}, a[:10]...), a[10], -dy))
		if max(dx, -dx) <= max(dy, -dy) {
			d[10], d[11] = -dx, a[10]
		}
		m.flexTo(d, flexDepth)
	}
}
