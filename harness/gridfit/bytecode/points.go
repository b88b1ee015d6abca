package bytecode

// points moves single points ("Managing outlines"): ALIGNPTS, UTP, MDAP, IUP,
// SHP, SHC, SHZ, SHPIX, IP, MSIRP, ALIGNRP, MIAP, FLIPPT, FLIPRGON, FLIPRGOFF.
func (m *Machine) points(op byte) {
	switch op {
	case 0x27:
		m.alignPoints()
	case 0x29: // UTP: point →
		m.untouch(m.pop())
	case 0x2E, 0x2F:
		m.mdap(op)
	case 0x30, 0x31:
		m.iup(op)
	case 0x32, 0x33:
		m.shiftPoints(op)
	case 0x34, 0x35:
		m.shiftContour(op)
	case 0x36, 0x37:
		m.shiftZone(op)
	case 0x38:
		m.shiftPixels()
	case 0x39:
		m.interpolate()
	case 0x3A, 0x3B:
		m.msirp(op)
	case 0x3C:
		m.alignToReference()
	case 0x3E, 0x3F:
		m.miap(op)
	case 0x80: // FLIPPT: points →
		m.loop(func(p int32) {
			if m.glyph.has(p) {
				m.glyph.OnCurve[p] = !m.glyph.OnCurve[p]
			}
		})
	case 0x81, 0x82: // FLIPRGON, FLIPRGOFF: low, high →
		hi, lo := m.pop(), m.pop()
		if m.glyph.has(hi) && m.glyph.has(lo) {
			for ; lo <= hi; lo++ {
				m.glyph.OnCurve[lo] = op == 0x81
			}
		}
	}
}

// ALIGNPTS: p1, p2 →. Both move half-way to each other.
func (m *Machine) alignPoints() {
	p2, p1 := m.pop(), m.pop()
	z0, z1 := m.zone(0), m.zone(1)
	if !z1.has(p1) || !z0.has(p2) {
		return
	}
	d := m.project(sub(z0.Current[p2], z1.Current[p1])) / 2
	m.move(z1, p1, d)
	m.move(z0, p2, -d)
}

func (m *Machine) untouch(p int32) {
	z := m.zone(0)
	if !z.has(p) {
		return
	}
	if m.gs.free.X != 0 {
		z.Touched[p] &^= TouchX
	}
	if m.gs.free.Y != 0 {
		z.Touched[p] &^= TouchY
	}
}

// MDAP[a]: point →. Touches it, a: rounds it.
func (m *Machine) mdap(op byte) {
	p := m.pop()
	z := m.zone(0)
	if !z.has(p) {
		return
	}
	d := F26Dot6(0)
	if op&1 != 0 {
		at := m.project(z.Current[p])
		d = m.gs.round.round(at) - at
	}
	m.move(z, p, d)
	m.gs.rp[0], m.gs.rp[1] = p, p
}

// MIAP[a]: point, cvt →. Moves it to a control value; a: with cut-in and rounding.
func (m *Machine) miap(op byte) {
	c, p := m.pop(), m.pop()
	z := m.zone(0)
	if !z.has(p) || c < 0 || int(c) >= len(m.cvt) {
		return
	}
	d := m.readCVT(c)
	if z == &m.twilight {
		z.Original[p] = Vec{mulFix14(d, m.gs.free.X), mulFix14(d, m.gs.free.Y)}
		z.Current[p] = z.Original[p]
	}
	at := m.project(z.Current[p])
	if op&1 != 0 {
		if abs(d-at) > m.gs.cutIn {
			d = at
		}
		d = m.gs.round.round(d)
	}
	m.move(z, p, d-at)
	m.gs.rp[0], m.gs.rp[1] = p, p
}

// MSIRP[a]: point, distance →. Puts it at a distance from rp0; a: sets rp0.
func (m *Machine) msirp(op byte) {
	d, p := m.pop(), m.pop()
	z0, z1, r := m.zone(0), m.zone(1), m.gs.rp[0]
	if !z1.has(p) || !z0.has(r) {
		return
	}
	if z1 == &m.twilight {
		z1.Original[p] = z0.Original[r]
		if m.gs.free.X != 0 {
			z1.Original[p].X += mulDiv(d, m.gs.free.X, m.pDot)
		}
		if m.gs.free.Y != 0 {
			z1.Original[p].Y += mulDiv(d, m.gs.free.Y, m.pDot)
		}
		z1.Current[p] = z1.Original[p]
	}
	m.move(z1, p, d-m.project(sub(z1.Current[p], z0.Current[r])))
	m.gs.rp[1], m.gs.rp[2] = r, p
	if op&1 != 0 {
		m.gs.rp[0] = p
	}
}

// ALIGNRP: points →. Puts each level with rp0.
func (m *Machine) alignToReference() {
	z0, z1, r := m.zone(0), m.zone(1), m.gs.rp[0]
	m.loop(func(p int32) {
		if z0.has(r) && z1.has(p) {
			m.move(z1, p, -m.project(sub(z1.Current[p], z0.Current[r])))
		}
	})
}

// MDRP[abcde]: point →. Keeps its original distance from rp0; a: sets rp0,
// b: keeps the minimum distance, c: rounds.
func (m *Machine) mdrp(op byte) {
	p := m.pop()
	z0, z1, r := m.zone(0), m.zone(1), m.gs.rp[0]
	if !z1.has(p) || !z0.has(r) {
		m.afterMove(op, p)
		return
	}
	org := m.original(z1, p, z0, r)
	if abs(org-m.gs.singleWidth) < m.gs.singleCutIn {
		org = withSign(m.gs.singleWidth, org)
	}
	d := org
	if op&4 != 0 {
		d = m.gs.round.round(org)
	}
	d = m.keepMinimum(op, d, org)
	m.move(z1, p, d-m.project(sub(z1.Current[p], z0.Current[r])))
	m.afterMove(op, p)
}

// MIRP[abcde]: point, cvt →. Takes its distance from rp0 from a control value;
// bits as for MDRP, c: with cut-in too.
func (m *Machine) mirp(op byte) {
	c, p := m.pop(), m.pop()
	z0, z1, r := m.zone(0), m.zone(1), m.gs.rp[0]
	if !z1.has(p) || !z0.has(r) || c < -1 || int(c) >= len(m.cvt) {
		m.afterMove(op, p)
		return
	}
	want := m.readCVT(c)
	if abs(want-m.gs.singleWidth) < m.gs.singleCutIn {
		want = withSign(m.gs.singleWidth, want)
	}
	if z1 == &m.twilight {
		z1.Original[p] = Vec{z0.Original[r].X + mulFix14(want, m.gs.free.X), z0.Original[r].Y + mulFix14(want, m.gs.free.Y)}
		z1.Current[p] = z1.Original[p]
	}
	org := m.dualProject(sub(z1.Original[p], z0.Original[r]))
	cur := m.project(sub(z1.Current[p], z0.Current[r]))
	if m.gs.autoFlip && org^want < 0 {
		want = -want
	}
	d := want
	if op&4 != 0 {
		if m.gs.zp[0] == m.gs.zp[1] && abs(want-org) > m.gs.cutIn {
			want = org
		}
		d = m.gs.round.round(want)
	}
	d = m.keepMinimum(op, d, org)
	m.move(z1, p, d-cur)
	m.afterMove(op, p)
}

func (m *Machine) keepMinimum(op byte, d, org F26Dot6) F26Dot6 {
	switch {
	case op&8 == 0:
		return d
	case org >= 0:
		return max(d, m.gs.minDistance)
	}
	return min(d, -m.gs.minDistance)
}

func (m *Machine) afterMove(op byte, p int32) {
	m.gs.rp[1], m.gs.rp[2] = m.gs.rp[0], p
	if op&16 != 0 {
		m.gs.rp[0] = p
	}
}

func withSign(v, of F26Dot6) F26Dot6 {
	if of >= 0 {
		return v
	}
	return -v
}

// ISECT: point, a0, a1, b0, b1 →. Puts the point where two lines meet; lines
// that are nearly parallel give the middle of their ends.
func (m *Machine) isect() {
	b1, b0, a1, a0, p := m.pop(), m.pop(), m.pop(), m.pop(), m.pop()
	z0, z1, z2 := m.zone(0), m.zone(1), m.zone(2)
	if !z0.has(b0) || !z0.has(b1) || !z1.has(a0) || !z1.has(a1) || !z2.has(p) {
		return
	}
	db, da := sub(z0.Current[b1], z0.Current[b0]), sub(z1.Current[a1], z1.Current[a0])
	d := sub(z0.Current[b0], z1.Current[a0])
	disc := mulDiv(da.X, -db.Y, 0x40) + mulDiv(da.Y, db.X, 0x40)
	dot := mulDiv(da.X, db.X, 0x40) + mulDiv(da.Y, db.Y, 0x40)
	if 19*int64(abs(disc)) > int64(abs(dot)) {
		v := mulDiv(d.X, -db.Y, 0x40) + mulDiv(d.Y, db.X, 0x40)
		z2.Current[p] = Vec{z1.Current[a0].X + mulDiv(v, da.X, disc), z1.Current[a0].Y + mulDiv(v, da.Y, disc)}
	} else {
		s := []Vec{z1.Current[a0], z1.Current[a1], z0.Current[b0], z0.Current[b1]}
		z2.Current[p] = Vec{(s[0].X + s[1].X + s[2].X + s[3].X) / 4, (s[0].Y + s[1].Y + s[2].Y + s[3].Y) / 4}
	}
	z2.Touched[p] |= TouchX | TouchY
}
