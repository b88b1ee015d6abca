package bytecode

// Chapter "Managing outlines": points on and off the curve.

// flippt: FLIPPT[], 0x80
// Pops:   points, as many as SLOOP says
// Pushes: nothing
// Does:   turns points on the curve into control points, and the other way round
// Spec:   Managing outlines
func (m *Machine) flippt() {
	for range m.looped() {
		if p := m.popPoint(); m.glyph.has(p) {
			m.glyph.OnCurve[p] = !m.glyph.OnCurve[p]
		}
	}
}

// fliprgon: FLIPRGON[], 0x81
// Pops:   lo, hi, points
// Pushes: nothing
// Does:   puts the points from lo to hi on the curve
// Spec:   Managing outlines
func (m *Machine) fliprgon() { m.flipRange(true) }

// fliprgoff: FLIPRGOFF[], 0x82
// Pops:   lo, hi, points
// Pushes: nothing
// Does:   makes control points of the points from lo to hi
// Spec:   Managing outlines
func (m *Machine) fliprgoff() { m.flipRange(false) }

func (m *Machine) flipRange(on bool) {
	hi, lo := m.popPoint(), m.popPoint()
	if m.glyph.has(hi) && m.glyph.has(lo) {
		m.spend(max(hi-lo, 0))
		for ; lo <= hi; lo++ {
			m.glyph.OnCurve[lo] = on
		}
	}
}

// looped is how many points an instruction that heeds SLOOP takes from the stack,
// once. Where the stack holds fewer it takes none, and leaves them there.
func (m *Machine) looped() int {
	n := int(m.gs.loop)
	m.gs.loop = 1
	if n > m.top {
		return 0
	}
	m.spend(n)
	return n
}
