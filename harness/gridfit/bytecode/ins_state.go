package bytecode

// Chapter "Managing the graphics state": reference points, zones, distances and
// dropout control. Vectors and rounding have files of their own.

// srp: SRP0[], SRP1[], SRP2[], 0x10 to 0x12
// Pops:   p, a point
// Pushes: nothing
// Does:   sets a reference point
// Spec:   Managing the graphics state
func (m *Machine) srp() { m.gs.rp[m.opcode-0x10] = m.popPoint() }

// szp: SZP0[], SZP1[], SZP2[], 0x13 to 0x15
// Pops:   z, 0 twilight or 1 glyph
// Pushes: nothing
// Does:   sets a zone pointer; another zone changes nothing
// Spec:   Managing the graphics state
func (m *Machine) szp() {
	if z := m.pop(); z == 0 || z == 1 {
		m.pointAt(int(m.opcode-0x13), int(z))
	}
}

// szps: SZPS[], 0x16
// Pops:   z, 0 twilight or 1 glyph
// Pushes: nothing
// Does:   sets the three zone pointers; another zone changes nothing
// Spec:   Managing the graphics state
func (m *Machine) szps() {
	if z := m.pop(); z == 0 || z == 1 {
		for i := range m.zp {
			m.pointAt(i, int(z))
		}
	}
}

func (m *Machine) pointAt(pointer, zone int) {
	m.gs.zp[pointer], m.zp[pointer] = zone, m.glyph
	if zone == 0 {
		m.zp[pointer] = &m.twilight
		m.twilightUsed = true
	}
}

// sloop: SLOOP[], 0x17
// Pops:   n
// Pushes: nothing
// Does:   lets the next instruction that heeds it take n points
// Spec:   Managing the graphics state
func (m *Machine) sloop() {
	n := m.pop()
	if n < 0 {
		m.fail("SLOOP with %d", n)
		return
	}
	m.gs.loop = min(n, 0xFFFF)
}

// smd: SMD[], 0x1A
// Pops:   d, 26.6 px
// Pushes: nothing
// Does:   sets the minimum distance
// Spec:   Managing the graphics state
func (m *Machine) smd() { m.gs.minDistance = m.pop() }

// instctrl: INSTCTRL[], 0x8E
// Pops:   v, s, a selector
// Pushes: nothing
// Does:   in the control value program, s 1 switches glyph programs off, s 2 has
// them start from defaults; s 3 concerns later interpreters
// Spec:   Managing the graphics state
func (m *Machine) instctrl() {
	s, v := m.pop(), m.pop()
	if s < 1 || s > 3 || m.running != prep {
		return
	}
	if bit := int32(1) << (s - 1); v == 0 || v == bit {
		m.gs.instructControl = m.gs.instructControl&^bit | v
	}
}

// scanctrl: SCANCTRL[], 0x85
// Pops:   w, flags and a ppem
// Pushes: nothing
// Does:   switches dropout control on or off by the ppem in bits 0 to 7: 0xFF on, 0
// off; bit 8 on up to it, bit 11 off above it. Bits 9, 10, 12, 13 concern
// glyphs that their user turns or stretches; ours are neither, as FreeType
// takes it even where the resolutions differ
// Spec:   Managing the graphics state
func (m *Machine) scanctrl() {
	w := m.pop()
	t, ppem, g := int(w&0xFF), max(m.size.PPEMX, m.size.PPEMY), &m.gs
	switch {
	case t == 0xFF:
		g.scanControl = true
	case t == 0:
		g.scanControl = false
	case w&0x100 != 0 && ppem <= t:
		g.scanControl = true
	case w&0x800 != 0 && ppem > t:
		g.scanControl = false
	}
}

// scantype: SCANTYPE[], 0x8D
// Pops:   n
// Pushes: nothing
// Does:   sets the dropout mode; below 0 changes nothing
// Spec:   Managing the graphics state
func (m *Machine) scantype() {
	if n := m.pop(); n >= 0 {
		m.gs.scanType = n & 0xFFFF
	}
}

// scvtci: SCVTCI[], 0x1D
// Pops:   d, 26.6 px
// Pushes: nothing
// Does:   sets the control value cut-in
// Spec:   Managing the graphics state
func (m *Machine) scvtci() { m.gs.cutIn = m.pop() }

// sswci: SSWCI[], 0x1E
// Pops:   d, 26.6 px
// Pushes: nothing
// Does:   sets the single width cut-in
// Spec:   Managing the graphics state
func (m *Machine) sswci() { m.gs.singleCutIn = m.pop() }

// ssw: SSW[], 0x1F
// Pops:   d, font units
// Pushes: nothing
// Does:   sets the single width value
// Spec:   Managing the graphics state
func (m *Machine) ssw() { m.gs.singleWidth = MulFix(m.pop(), m.scale) }

// flipon: FLIPON[], 0x4D
// Pops:   nothing
// Pushes: nothing
// Does:   lets MIRP give control values the sign of the distance
// Spec:   Managing the graphics state
func (m *Machine) flipon() { m.gs.autoFlip = true }

// flipoff: FLIPOFF[], 0x4E
// Pops:   nothing
// Pushes: nothing
// Does:   has MIRP take the sign of control values as it is
// Spec:   Managing the graphics state
func (m *Machine) flipoff() { m.gs.autoFlip = false }

// sangw: SANGW[], 0x7E
// Pops:   w
// Pushes: nothing
// Does:   nothing; obsolete
// Spec:   Managing the graphics state
func (m *Machine) sangw() { m.pop() }

// aa: AA[], 0x7F
// Pops:   p
// Pushes: nothing
// Does:   nothing; obsolete
// Spec:   Managing the graphics state
func (m *Machine) aa() { m.pop() }

// sdb: SDB[], 0x5E
// Pops:   n, a ppem
// Pushes: nothing
// Does:   sets the base of deltas
// Spec:   Managing the graphics state
func (m *Machine) sdb() { m.gs.deltaBase = int32(uint16(m.pop())) }

// sds: SDS[], 0x5F
// Pops:   n, 0 to 6
// Pushes: nothing
// Does:   makes the step of deltas 1/2ⁿ px
// Spec:   Managing the graphics state
func (m *Machine) sds() {
	n := m.pop()
	if n < 0 || n > 6 {
		m.fail("SDS with %d, must be 0 to 6", n)
		return
	}
	m.gs.deltaShift = n
}
