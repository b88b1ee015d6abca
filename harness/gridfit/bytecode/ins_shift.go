package bytecode

// Chapter "Managing outlines": points that follow another.

// shp: SHP[a], 0x32 rp2 in zone 1, 0x33 rp1 in zone 0
// Pops:   points, as many as SLOOP says
// Pushes: nothing
// Does:   moves points as far as the reference point has moved
// Spec:   Managing outlines
func (m *Machine) shp() {
	if int(m.gs.loop) > m.top {
		m.gs.loop = 1
		return
	}
	d, _, _, ok := m.displacement()
	if !ok {
		return // and leaves points and loop to the next instruction, as FreeType does
	}
	for range m.looped() {
		if p := m.popPoint(); m.zp[2].has(p) {
			m.shift(p, d)
			m.touch(p)
		}
	}
}

// shc: SHC[a], 0x34 rp2 in zone 1, 0x35 rp1 in zone 0
// Pops:   c, a contour
// Pushes: nothing
// Does:   moves a contour as far as the reference point has moved; but not that point
// Spec:   Managing outlines
func (m *Machine) shc() {
	c := int(int16(m.pop()))
	z := m.zp[2]
	from, to := 0, len(z.Touched)
	if z == &m.twilight && c != 0 || z != &m.twilight && uint(c) >= uint(len(z.Ends)) {
		return
	}
	if z != &m.twilight {
		to = z.Ends[c] + 1
		if c > 0 {
			from = z.Ends[c-1] + 1
		}
	}
	m.shiftRange(from, to, true)
}

// shz: SHZ[a], 0x36 rp2 in zone 1, 0x37 rp1 in zone 0
// Pops:   z, 0 or 1; zone pointer 2 counts all the same
// Pushes: nothing
// Does:   moves a zone but for the phantom points as far as the reference point has
// moved; touches nothing, and not that point
// Spec:   Managing outlines
func (m *Machine) shz() {
	if n := m.pop(); n != 0 && n != 1 {
		return
	}
	z, to := m.zp[2], 0
	if z == &m.twilight {
		to = len(z.Touched)
	} else if n := len(z.Ends); n > 0 {
		to = z.Ends[n-1] + 1
	}
	m.shiftRange(0, to, false)
}

// shiftRange moves points of zone pointer 2 as far as the reference point has moved, but not
// that point.
func (m *Machine) shiftRange(from, to int, touch bool) {
	m.spend(to - from)
	d, z, rp, ok := m.displacement()
	for p := from; ok && p < to; p++ {
		if z == m.zp[2] && p == rp {
			continue
		}
		m.shift(p, d)
		if touch {
			m.touch(p)
		}
	}
}

// shpix: SHPIX[], 0x38
// Pops:   points, as many as SLOOP says; d, 26.6 px
// Pushes: nothing
// Does:   moves points by d along the freedom vector itself
// Spec:   Managing outlines
func (m *Machine) shpix() {
	v := m.pop()
	d := Vec{mulFix14(v, m.gs.free.X), mulFix14(v, m.gs.free.Y)}
	for range m.looped() {
		if p := m.popPoint(); m.zp[2].has(p) {
			m.shift(p, d)
			m.touch(p)
		}
	}
}

// displacement is how far a reference point has moved, along the freedom vector,
// and which one it is; false where it is missing.
func (m *Machine) displacement() (d Vec, z *Zone, p int, ok bool) {
	z, p = m.zp[1], m.gs.rp[2]
	if m.opcode&1 != 0 {
		z, p = m.zp[0], m.gs.rp[1]
	}
	if !z.has(p) {
		return Vec{}, z, p, false
	}
	return m.freed(m.project(sub(z.current(p), z.original(p)))), z, p, true
}

// shift moves a point of zone pointer 2 along the axes of the freedom vector.
func (m *Machine) shift(p int, d Vec) {
	z := m.zp[2]
	if m.gs.free.X != 0 {
		z.Current.X[p] += d.X
	}
	if m.gs.free.Y != 0 {
		z.Current.Y[p] += d.Y
	}
}

// touch marks a point of zone pointer 2 as placed along those axes.
func (m *Machine) touch(p int) {
	z := m.zp[2]
	if m.gs.free.X != 0 {
		z.Touched[p] |= TouchX
	}
	if m.gs.free.Y != 0 {
		z.Touched[p] |= TouchY
	}
}
