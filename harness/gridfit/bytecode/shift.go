package bytecode

// displacement is how far the reference point has moved: rp1 in zone 0 (a = 1)
// or rp2 in zone 1 (a = 0), as an offset along the freedom vector.
func (m *Machine) displacement(op byte) (d Vec, z *Zone, p int32, ok bool) {
	z, p = m.zone(1), m.gs.rp[2]
	if op&1 != 0 {
		z, p = m.zone(0), m.gs.rp[1]
	}
	if !z.has(p) {
		return Vec{}, z, p, false
	}
	along := m.project(sub(z.Current[p], z.Original[p]))
	return Vec{mulDiv(along, m.gs.free.X, m.pDot), mulDiv(along, m.gs.free.Y, m.pDot)}, z, p, true
}

// SHP[a]: points →.
func (m *Machine) shiftPoints(op byte) {
	d, _, _, ok := m.displacement(op)
	m.loop(func(p int32) {
		if ok && m.zone(2).has(p) {
			m.shift(p, d, true)
		}
	})
}

// SHC[a]: contour →.
func (m *Machine) shiftContour(op byte) {
	c := int(m.pop())
	d, ref, rp, ok := m.displacement(op)
	z := m.zone(2)
	from, to := 0, len(z.Current)
	if z != &m.twilight {
		if c < 0 || c >= len(z.Ends) {
			return
		}
		if c > 0 {
			from = z.Ends[c-1] + 1
		}
		to = z.Ends[c] + 1
	}
	for i := from; ok && i < to; i++ {
		if ref != z || int32(i) != rp {
			m.shift(int32(i), d, true)
		}
	}
}

// SHZ[a]: zone →. Phantom points stay, and nothing is touched.
func (m *Machine) shiftZone(op byte) {
	if n := m.pop(); n != 0 && n != 1 {
		return
	}
	d, ref, rp, ok := m.displacement(op)
	z := m.zone(2)
	to := 0
	if z == &m.twilight {
		to = len(z.Current)
	} else if n := len(z.Ends); n > 0 {
		to = z.Ends[n-1] + 1
	}
	for i := 0; ok && i < to; i++ {
		if ref != z || int32(i) != rp {
			m.shift(int32(i), d, false)
		}
	}
}

// SHPIX: points, distance →. Moves along the freedom vector itself.
func (m *Machine) shiftPixels() {
	v := m.pop()
	d := Vec{mulFix14(v, m.gs.free.X), mulFix14(v, m.gs.free.Y)}
	m.loop(func(p int32) {
		if m.zone(2).has(p) {
			m.shift(p, d, true)
		}
	})
}
