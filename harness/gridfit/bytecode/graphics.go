package bytecode

// graphics sets reference points, zone pointers, rounding, distances and
// dropout control ("Managing the graphics state").
func (m *Machine) graphics(op byte) {
	g := &m.gs
	switch op {
	case 0x10, 0x11, 0x12: // SRP0, SRP1, SRP2: point →
		g.rp[op-0x10] = m.pop()
	case 0x13, 0x14, 0x15: // SZP0, SZP1, SZP2: zone →
		g.zp[op-0x13] = m.zoneNumber()
	case 0x16: // SZPS: zone →
		z := m.zoneNumber()
		g.zp = [3]int32{z, z, z}
	case 0x17: // SLOOP: count →
		if g.loop = m.pop(); g.loop < 0 {
			m.fail("SLOOP with %d", g.loop)
		}
		g.loop = min(g.loop, 0xFFFF)
	case 0x18: // RTG
		g.round.mode = toGrid
	case 0x19: // RTHG
		g.round.mode = toHalfGrid
	case 0x3D: // RTDG
		g.round.mode = toDoubleGrid
	case 0x7C: // RUTG
		g.round.mode = upToGrid
	case 0x7D: // RDTG
		g.round.mode = downToGrid
	case 0x7A: // ROFF
		g.round.mode = roundOff
	case 0x76: // SROUND: selector →
		g.round.set(super, 0x4000, m.pop())
	case 0x77: // S45ROUND: selector →
		g.round.set(super45, 0x2D41, m.pop())
	case 0x1A: // SMD: distance →
		g.minDistance = m.pop()
	case 0x1D: // SCVTCI: distance →
		g.cutIn = m.pop()
	case 0x1E: // SSWCI: distance →
		g.singleCutIn = m.pop()
	case 0x1F: // SSW: font units →
		g.singleWidth = MulFix(m.pop(), m.scale)
	case 0x4D: // FLIPON
		g.autoFlip = true
	case 0x4E: // FLIPOFF
		g.autoFlip = false
	case 0x5E: // SDB: ppem →
		g.deltaBase = int32(uint16(m.pop()))
	case 0x5F: // SDS: shift →
		if s := m.pop(); s >= 0 && s <= 6 {
			g.deltaShift = s
		} else {
			m.fail("SDS with %d, must be 0 to 6", s)
		}
	case 0x85: // SCANCTRL: flags →
		m.scanControl(m.pop())
	case 0x8D: // SCANTYPE: mode →
		if t := m.pop(); t >= 0 {
			g.scanType = t & 0xFFFF
		}
	case 0x8E: // INSTCTRL: value, selector →
		m.instructControl()
	}
}

func (m *Machine) zoneNumber() int32 {
	z := m.pop()
	if z != 0 && z != 1 {
		m.fail("zone %d, must be 0 or 1", z)
	}
	return z
}

// scanControl reads SCANCTRL's word. The glyph is neither rotated nor stretched
// by its user, so bits 9, 10, 12 and 13 decide nothing but off.
func (m *Machine) scanControl(word int32) {
	t, g := word&0xFF, &m.gs
	switch t {
	case 0xFF:
		g.scanControl = true
		return
	case 0:
		g.scanControl = false
		return
	}
	ppem := m.ppem()
	if word&0x100 != 0 && ppem <= t {
		g.scanControl = true
	}
	if word&0x800 != 0 && ppem > t {
		g.scanControl = false
	}
	if word&0x1000 != 0 || word&0x2000 != 0 {
		g.scanControl = false
	}
}

// instructControl heeds selectors 1 and 2, and only in the control value program.
func (m *Machine) instructControl() {
	k, v := m.pop(), m.pop()
	if k < 1 || k > 3 {
		m.fail("INSTCTRL selector %d, must be 1 to 3", k)
	}
	bit := int32(1) << (k - 1)
	if v != 0 && v != bit {
		m.fail("INSTCTRL value %d for selector %d", v, k)
	}
	if m.inPrep && k < 3 {
		m.gs.instructControl = m.gs.instructControl&^bit | v
	}
}
