package bytecode

// Chapter "Managing outlines": touched and untouched points.

// utp: UTP[], 0x29
// Pops:   p, a point
// Pushes: nothing
// Does:   takes the mark of having been placed off p
// Spec:   Managing outlines
func (m *Machine) utp() {
	p, z := m.popPoint(), m.zp[0]
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

// iup: IUP[a], 0x30 y, 0x31 x
// Pops:   nothing
// Pushes: nothing
// Does:   moves the untouched points of each contour with the touched ones beside them
// Spec:   Managing outlines
func (m *Machine) iup() {
	z := m.glyph
	u := untouched{z.Touched, TouchY, z.Unscaled.Y, z.Original.Y, z.Current.Y}
	if m.opcode&1 != 0 {
		u = untouched{z.Touched, TouchX, z.Unscaled.X, z.Original.X, z.Current.X}
	}
	m.spend(len(z.Touched) + len(z.Ends))
	first := 0
	for _, end := range z.Ends {
		u.contour(first, end)
		first = end + 1
	}
}

// untouched is one axis of a zone.
type untouched struct {
	touched             []Touch
	mark                Touch
	unscaled, org, curr []F26Dot6
}

// contour walks the points from first to end, from one touched point to the next
// and from the last round to the first.
func (u *untouched) contour(first, end int) {
	p := first
	for p <= end && u.touched[p]&u.mark == 0 {
		p++
	}
	if p > end {
		return
	}
	start, last := p, p
	for p++; p <= end; p++ {
		if u.touched[p]&u.mark != 0 {
			u.between(last+1, p, last, p)
			last = p
		}
	}
	if last == start {
		u.follow(first, end, last)
		return
	}
	u.between(last+1, end+1, last, start)
	u.between(first, start, last, start)
}

// follow moves a contour with its only touched point.
func (u *untouched) follow(first, end, p int) {
	d := u.curr[p] - u.org[p]
	if d == 0 {
		return
	}
	for i := first; i <= end; i++ {
		if i != p {
			u.curr[i] += d
		}
	}
}

// between places the points from from to before to: in proportion where they were
// between the touched points r1 and r2, else as far off as they were.
func (u *untouched) between(from, to, r1, r2 int) {
	if from >= to {
		return
	}
	if u.unscaled[r1] > u.unscaled[r2] {
		r1, r2 = r2, r1
	}
	un1, un2 := u.unscaled[r1], u.unscaled[r2]
	org1, org2, cur1, cur2 := u.org[r1], u.org[r2], u.curr[r1], u.curr[r2]
	scale, scaled := int32(0), cur1 == cur2 || un1 == un2 // then all meet at cur1
	org, curr, unscaled := u.org[from:to], u.curr[from:to], u.unscaled[from:to]
	for i, v := range org {
		switch {
		case v <= org1:
			v += cur1 - org1
		case v >= org2:
			v += cur2 - org2
		default:
			if !scaled {
				scale, scaled = DivFix(cur2-cur1, un2-un1), true
			}
			v = cur1 + MulFix(unscaled[i]-un1, scale)
		}
		curr[i] = v
	}
}
