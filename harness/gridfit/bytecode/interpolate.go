package bytecode

// IP: points →. Keeps each point's place between rp1 and rp2.
func (m *Machine) interpolate() {
	z0, z1, z2 := m.zone(0), m.zone(1), m.zone(2)
	r1, r2 := m.gs.rp[1], m.gs.rp[2]
	if !z0.has(r1) {
		m.loop(func(int32) {})
		return
	}
	twilight := z0 == &m.twilight || z1 == &m.twilight || z2 == &m.twilight
	from := func(z *Zone, p int32) F26Dot6 {
		if twilight {
			return m.dualProject(sub(z.Original[p], z0.Original[r1]))
		}
		d := sub(z.Unscaled[p], z0.Unscaled[r1])
		if m.size.ScaleX == m.size.ScaleY {
			return m.dualProject(d)
		}
		return m.dualProject(Vec{MulFix(d.X, m.size.ScaleX), MulFix(d.Y, m.size.ScaleY)})
	}
	oldRange, curRange := F26Dot6(0), F26Dot6(0)
	if z1.has(r2) {
		oldRange = from(z1, r2)
		curRange = m.project(sub(z1.Current[r2], z0.Current[r1]))
	}
	m.loop(func(p int32) {
		if !z2.has(p) {
			return
		}
		org := from(z2, p)
		cur := m.project(sub(z2.Current[p], z0.Current[r1]))
		want := org
		if org != 0 && oldRange != 0 {
			want = mulDiv(org, curRange, oldRange)
		}
		m.move(z2, p, want-cur)
	})
}

// IUP[a]: moves the untouched points of each contour with the touched ones
// beside them, along Y (0x30) or X (0x31).
func (m *Machine) iup(op byte) {
	u := untouched{z: m.glyph, touch: TouchY, at: func(v *Vec) *int32 { return &v.Y }}
	if op&1 != 0 {
		u.touch, u.at = TouchX, func(v *Vec) *int32 { return &v.X }
	}
	first := 0
	for _, end := range m.glyph.Ends {
		u.contour(first, end)
		first = end + 1
	}
}

type untouched struct {
	z     *Zone
	touch Touch
	at    func(*Vec) *int32
}

func (u *untouched) contour(first, end int) {
	p := first
	for p <= end && u.z.Touched[p]&u.touch == 0 {
		p++
	}
	if p > end {
		return
	}
	start, last := p, p
	for p++; p <= end; p++ {
		if u.z.Touched[p]&u.touch != 0 {
			u.between(last+1, p-1, last, p)
			last = p
		}
	}
	if last == start {
		u.shiftAll(first, end, last)
		return
	}
	u.between(last+1, end, last, start)
	if start > first {
		u.between(first, start-1, last, start)
	}
}

// shiftAll moves a contour with its only touched point.
func (u *untouched) shiftAll(first, end, p int) {
	d := *u.at(&u.z.Current[p]) - *u.at(&u.z.Original[p])
	if d == 0 {
		return
	}
	for i := first; i <= end; i++ {
		if i != p {
			*u.at(&u.z.Current[i]) += d
		}
	}
}

func (u *untouched) between(from, to, r1, r2 int) {
	if from > to {
		return
	}
	z := u.z
	if *u.at(&z.Unscaled[r1]) > *u.at(&z.Unscaled[r2]) {
		r1, r2 = r2, r1
	}
	un1, un2 := *u.at(&z.Unscaled[r1]), *u.at(&z.Unscaled[r2])
	org1, org2 := *u.at(&z.Original[r1]), *u.at(&z.Original[r2])
	cur1, cur2 := *u.at(&z.Current[r1]), *u.at(&z.Current[r2])
	flat := cur1 == cur2 || un1 == un2
	scale := int32(0)
	if !flat {
		scale = DivFix(cur2-cur1, un2-un1)
	}
	for i := from; i <= to; i++ {
		x := *u.at(&z.Original[i])
		switch {
		case x <= org1:
			x += cur1 - org1
		case x >= org2:
			x += cur2 - org2
		case flat:
			x = cur1
		default:
			x = cur1 + MulFix(*u.at(&z.Unscaled[i])-un1, scale)
		}
		*u.at(&z.Current[i]) = x
	}
}
