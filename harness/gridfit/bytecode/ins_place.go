package bytecode

// Chapter "Managing outlines": points placed by themselves or by a reference point.

// mdap: MDAP[a], 0x2E, 0x2F rounds
// Pops:   p, a point
// Pushes: nothing
// Does:   touches p, rounded or where it is; makes it rp0 and rp1
// Spec:   Managing outlines
func (m *Machine) mdap() {
	p, z := m.popPoint(), m.zp[0]
	if !z.has(p) {
		return
	}
	d := F26Dot6(0)
	if m.opcode&1 != 0 {
		at := m.project(z.current(p))
		d = m.gs.round.round(at) - at
	}
	m.move(z, p, d)
	m.gs.rp[0], m.gs.rp[1] = p, p
}

// miap: MIAP[a], 0x3E, 0x3F rounds
// Pops:   p, a point; c, a control value
// Pushes: nothing
// Does:   moves p to control value c, or where rounding and c is farther off than the
// cut-in, to the grid; makes it rp0 and rp1 in any case
// Spec:   Managing outlines
func (m *Machine) miap() {
	c, p := m.pop(), m.popPoint()
	if z := m.zp[0]; z.has(p) && m.hasCVT(c) {
		d := m.readCVT(c)
		if z == &m.twilight {
			z.setOriginal(p, m.alongFreedom(d))
			z.setCurrent(p, z.original(p))
		}
		at := m.project(z.current(p))
		if m.opcode&1 != 0 {
			if abs(d-at) > m.gs.cutIn {
				d = at
			}
			d = m.gs.round.round(d)
		}
		m.move(z, p, d-at)
	}
	m.gs.rp[0], m.gs.rp[1] = p, p
}

// msirp: MSIRP[a], 0x3A, 0x3B sets rp0
// Pops:   p, a point; d, 26.6 px
// Pushes: nothing
// Does:   puts p at distance d from rp0; makes it rp2 and rp0 rp1
// Spec:   Managing outlines
func (m *Machine) msirp() {
	d, p := m.pop(), m.popPoint()
	z0, z1, r := m.zp[0], m.zp[1], m.gs.rp[0]
	if !z1.has(p) || !z0.has(r) {
		return
	}
	if z1 == &m.twilight {
		at, off := z0.original(r), m.freed(d)
		z1.setOriginal(p, Vec{at.X + off.X, at.Y + off.Y})
		z1.setCurrent(p, z1.original(p))
	}
	m.move(z1, p, d-m.project(sub(z1.current(p), z0.current(r))))
	m.gs.rp[1], m.gs.rp[2] = r, p
	if m.opcode&1 != 0 {
		m.gs.rp[0] = p
	}
}

// mdrp: MDRP[abcde], 0xC0 to 0xDF; see moveRounds
// Pops:   p, a point
// Pushes: nothing
// Does:   puts p at its original distance from rp0, the single width where it is
// near; makes it rp2 and rp0 rp1 in any case
// Spec:   Managing outlines
func (m *Machine) mdrp() {
	p := m.popPoint()
	if z0, z1, r := m.zp[0], m.zp[1], m.gs.rp[0]; z1.has(p) && z0.has(r) {
		org := m.original(z1, p, z0, r)
		if abs(org-m.gs.singleWidth) < m.gs.singleCutIn {
			org = withSign(m.gs.singleWidth, org)
		}
		d := org
		if m.opcode&moveRounds != 0 {
			d = m.gs.round.round(org)
		}
		d = m.keepMinimum(d, org)
		m.move(z1, p, d-m.project(sub(z1.current(p), z0.current(r))))
	}
	m.afterMove(p)
}

// mirp: MIRP[abcde], 0xE0 to 0xFF; see moveRounds
// Pops:   p, a point; c, a control value, -1 for none
// Pushes: nothing
// Does:   puts p at the distance of control value c from rp0, or where rounding and c
// is farther off than the cut-in, at its original one; makes it rp2 and rp0 rp1
// in any case
// Spec:   Managing outlines
func (m *Machine) mirp() {
	c, p := m.pop(), m.popPoint()
	z0, z1, r := m.zp[0], m.zp[1], m.gs.rp[0]
	if !z1.has(p) || !z0.has(r) || c != -1 && !m.hasCVT(c) {
		m.afterMove(p)
		return
	}
	want := F26Dot6(0)
	if c >= 0 {
		want = m.readCVT(c)
	}
	if abs(want-m.gs.singleWidth) < m.gs.singleCutIn {
		want = withSign(m.gs.singleWidth, want)
	}
	if z1 == &m.twilight {
		at, off := z0.original(r), m.alongFreedom(want)
		z1.setOriginal(p, Vec{at.X + off.X, at.Y + off.Y})
		z1.setCurrent(p, z1.original(p))
	}
	org := m.dualProject(sub(z1.original(p), z0.original(r)))
	cur := m.project(sub(z1.current(p), z0.current(r)))
	if m.gs.autoFlip && org^want < 0 {
		want = -want
	}
	if m.opcode&moveRounds != 0 {
		if z0 == z1 && abs(want-org) > m.gs.cutIn {
			want = org
		}
		want = m.gs.round.round(want)
	}
	m.move(z1, p, m.keepMinimum(want, org)-cur)
	m.afterMove(p)
}

// The bits of MDRP and MIRP. The lowest two name a kind of distance that an engine
// may compensate for; ours does not.
const (
	moveRounds       = 1 << 2
	moveKeepsMinimum = 1 << 3
	moveSetsRP0      = 1 << 4
)

// keepMinimum holds a distance to the minimum, where the instruction asks for it.
func (m *Machine) keepMinimum(d, org F26Dot6) F26Dot6 {
	switch {
	case m.opcode&moveKeepsMinimum == 0:
		return d
	case org >= 0:
		return max(d, m.gs.minDistance)
	}
	return min(d, -m.gs.minDistance)
}

func (m *Machine) afterMove(p int) {
	m.gs.rp[1], m.gs.rp[2] = m.gs.rp[0], p
	if m.opcode&moveSetsRP0 != 0 {
		m.gs.rp[0] = p
	}
}

// alongFreedom is d along the freedom vector.
func (m *Machine) alongFreedom(d F26Dot6) Vec {
	return Vec{mulFix14(d, m.gs.free.X), mulFix14(d, m.gs.free.Y)}
}

func withSign(v, of F26Dot6) F26Dot6 {
	if of >= 0 {
		return v
	}
	return -v
}
