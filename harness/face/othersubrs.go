package face

import (
	"slices"

	"smokeproof/harness/glyph"
)

// otherSubr does what the PostScript procedures of these numbers do: 0 to 2
// flex, 3 hint replacement (Type 1 book, chapter 8), 12 and 13 counter control
// (TN5015, section 2.2). Another number gives its operands back.
func (m *type1) otherSubr() {
	which := m.popInt()
	n := m.popInt()
	if n < 0 || n > len(m.stack) {
		m.fail("OtherSubrs %d wants %d operands, there are %d", which, n, len(m.stack))
	}
	if m.fault != "" {
		return
	}
	at := len(m.stack) - n
	args := m.stack[at:]
	m.stack = m.stack[:at]
	m.results = m.results[:0]
	switch {
	case which == 0 && n == 3:
		m.endFlex(args[0])
		m.results = append(m.results, args[2], args[1])
	case which == 1 && n == 0:
		m.flexing, m.flex, m.flexStart = true, m.flex[:0], vec{m.x, m.y}
	case which == 2 && n == 0:
		if !m.flexing || len(m.flex) >= 7 {
			m.fail("a point of a flex where no flex begins, or an eighth one")
			return
		}
		m.flex = append(m.flex, vec{m.x, m.y})
	case which == 3 && n == 1:
		m.inForce(nil)
		m.results = append(m.results, args[0])
	case which == 12:
		m.gather(args)
	case which == 13:
		m.gather(args)
		m.countersFrom(m.counters)
		m.counters = nil
	case which < 4:
		m.fail("OtherSubrs %d with %d operands", which, n)
	case which >= 14 && which <= 18:
		m.fail("OtherSubrs %d blends the masters of a multiple master font, which cannot be read", which)
	default:
		for i := n - 1; i >= 0; i-- {
			m.results = append(m.results, args[i])
		}
	}
}

// gather keeps operands until 13 reads the list. PostScript reads it from the top
// of a stack, so what a later call put there comes first.
func (m *type1) gather(args []fix) {
	if len(m.counters)+len(args) > 4*maxHints {
		m.fail("counter control of more than %d operands", 4*maxHints)
		return
	}
	m.counters = slices.Concat(args, m.counters)
}

// endFlex draws the curves. The pen's first stop is the reference point, which
// is no point of the curve: it is only where the next step is counted from.
func (m *type1) endFlex(depth fix) {
	if !m.flexing || len(m.flex) != 7 {
		m.fail("a flex ends with %d of its 7 points", len(m.flex))
		return
	}
	m.flexing = false
	end := m.flex[6]
	start := m.flexStart
	var d [12]fix
	for i, p := range m.flex[1:] {
		d[2*i], d[2*i+1] = p.x-start.x, p.y-start.y
		start = p
	}
	m.x, m.y = m.flexStart.x, m.flexStart.y
	m.flexTo(d, depth)
	m.x, m.y = end.x, end.y
}

// countersFrom reads groups of stems: the number of groups across, those
// groups, the number of upright ones, those. A stem is a step from the end of
// the one before and a width; the last of a group counts from its far edge, so
// its width is negative (TN5015, section 2.2; the coding of steps from memory).
func (m *type1) countersFrom(a []fix) {
	for _, axis := range []glyph.Axis{glyph.AxisY, glyph.AxisX} {
		if len(a) == 0 {
			return
		}
		groups := int(a[0] >> 16)
		a = a[1:]
		for range min(max(groups, 0), maxHints) {
			var group []int
			at := fix(0)
			for last := false; !last && len(a) >= 2; a = a[2:] {
				lo, width := at+a[0], a[1]
				if last = width < 0; last {
					lo, width = lo+width, -width
				}
				group = append(group, m.hint(axis, lo, width))
				at = lo + width
			}
			if m.fault != "" {
				return
			}
			m.counter(group)
		}
	}
}
