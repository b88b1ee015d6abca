package bytecode

// Chapter "Managing outlines": points brought into line, and between others.

// alignrp: ALIGNRP[], 0x3C
// Pops:   points, as many as SLOOP says
// Pushes: nothing
// Does:   puts points level with rp0
// Spec:   Managing outlines
func (m *Machine) alignrp() {
	n, z0, z1, r := m.looped(), m.zp[0], m.zp[1], m.gs.rp[0]
	if !z0.has(r) {
		return // and leaves the points on the stack
	}
	for range n {
		if p := m.popPoint(); z1.has(p) {
			m.move(z1, p, -m.project(sub(z1.current(p), z0.current(r))))
		}
	}
}

// alignpts: ALIGNPTS[], 0x27
// Pops:   p1, p2, points
// Pushes: nothing
// Does:   moves both points half-way to each other
// Spec:   Managing outlines
func (m *Machine) alignpts() {
	p2, p1 := m.popPoint(), m.popPoint()
	z0, z1 := m.zp[0], m.zp[1]
	if !z1.has(p1) || !z0.has(p2) {
		return
	}
	d := m.project(sub(z0.current(p2), z1.current(p1))) / 2
	m.move(z1, p1, d)
	m.move(z0, p2, -d)
}

// isect: ISECT[], 0x0F
// Pops:   p, a0, a1, b0, b1, points
// Pushes: nothing
// Does:   puts p where the lines a and b meet; lines that are nearly parallel give the
// middle of their ends
// Spec:   Managing outlines
func (m *Machine) isect() {
	b1, b0, a1, a0, p := m.popPoint(), m.popPoint(), m.popPoint(), m.popPoint(), m.popPoint()
	z0, z1, z2 := m.zp[0], m.zp[1], m.zp[2]
	if !z0.has(b0) || !z0.has(b1) || !z1.has(a0) || !z1.has(a1) || !z2.has(p) {
		return
	}
	a, b, a2, b2 := z1.current(a0), z0.current(b0), z1.current(a1), z0.current(b1)
	if at, ok := crossing(a, a2, b, b2); ok {
		z2.setCurrent(p, at)
	} else {
		z2.setCurrent(p, Vec{(a.X + a2.X + b.X + b2.X) / 4, (a.Y + a2.Y + b.Y + b2.Y) / 4})
	}
	z2.Touched[p] |= TouchX | TouchY
}

// crossing is where the lines a–a2 and b–b2 meet; false where they are within
// some 3 degrees of each other, and the place would be far away or nowhere.
func crossing(a, a2, b, b2 Vec) (Vec, bool) {
	da, db, d := sub(a2, a), sub(b2, b), sub(b, a)
	cross := mulDiv(da.X, -db.Y, 64) + mulDiv(da.Y, db.X, 64)
	dot := mulDiv(da.X, db.X, 64) + mulDiv(da.Y, db.Y, 64)
	if 19*int64(abs(cross)) <= int64(abs(dot)) {
		return Vec{}, false
	}
	v := mulDiv(d.X, -db.Y, 64) + mulDiv(d.Y, db.X, 64)
	return Vec{a.X + mulDiv(v, da.X, cross), a.Y + mulDiv(v, da.Y, cross)}, true
}

// ip: IP[], 0x39
// Pops:   points, as many as SLOOP says
// Pushes: nothing
// Does:   keeps the place of points between rp1 and rp2, in proportion
// Spec:   Managing outlines
func (m *Machine) ip() {
	n, z0, z1, z2 := m.looped(), m.zp[0], m.zp[1], m.zp[2]
	r1, r2 := m.gs.rp[1], m.gs.rp[2]
	if !z0.has(r1) {
		return // and leaves the points on the stack
	}
	was, is := F26Dot6(0), F26Dot6(0)
	if z1.has(r2) {
		was = m.fromBase(z1, r2)
		is = m.project(sub(z1.current(r2), z0.current(r1)))
	}
	for range n {
		p := int(m.pop())
		if !z2.has(p) {
			continue
		}
		want := m.fromBase(z2, p)
		if want != 0 && was != 0 {
			want = mulDiv(want, is, was)
		}
		m.move(z2, p, want-m.project(sub(z2.current(p), z0.current(r1))))
	}
}

// fromBase is how far a point was from rp1 originally. IP sets two such distances
// against each other, so font units need no scale where it is the same both ways.
func (m *Machine) fromBase(z *Zone, p int) F26Dot6 {
	base, r1 := m.zp[0], m.gs.rp[1]
	if m.zp[0] == &m.twilight || m.zp[1] == &m.twilight || m.zp[2] == &m.twilight {
		return m.dualProject(sub(z.original(p), base.original(r1)))
	}
	d := sub(z.unscaled(p), base.unscaled(r1))
	if m.size.ScaleX != m.size.ScaleY {
		d = Vec{MulFix(d.X, m.size.ScaleX), MulFix(d.Y, m.size.ScaleY)}
	}
	return m.dualProject(d)
}
