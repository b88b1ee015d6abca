package bytecode

// execute runs the instruction that was fetched from byte at.
func (m *Machine) execute(op byte, at int) {
	switch {
	case op >= firstMIRP:
		m.mirp(op)
	case op >= firstMDRP:
		m.mdrp(op)
	case op >= opPUSHB, op == opNPUSHB, op == opNPUSHW:
		m.pushInline(op, at)
	case op <= 0x0E || op == 0x86 || op == 0x87:
		m.vectors(op)
	case op == 0x0F:
		m.isect()
	case op <= 0x1A || op == 0x1D || op == 0x1E || op == 0x1F || op == 0x4D || op == 0x4E || op == 0x5E || op == 0x5F ||
		op == 0x3D || op == 0x76 || op == 0x77 || op == 0x7A || op == 0x7C || op == 0x7D || op == 0x85 || op == 0x8D || op == 0x8E:
		m.graphics(op)
	case op == 0x1B || op == 0x1C || op >= 0x2A && op <= 0x2D || op == 0x58 || op == 0x59 || op == 0x78 || op == 0x79 || op == 0x89:
		m.control(op)
	case op >= 0x20 && op <= 0x26 || op == 0x8A:
		m.stackOp(op)
	case op == 0x27 || op == 0x29 || op >= 0x2E && op <= 0x3C || op == 0x3E || op == 0x3F || op >= 0x80 && op <= 0x82:
		m.points(op)
	case op >= 0x42 && op <= 0x4C || op == 0x70 || op == 0x88:
		m.values(op)
	case op == 0x5D || op >= 0x71 && op <= 0x75:
		m.delta(op)
	case op >= 0x50 && op <= 0x57 || op >= 0x5A && op <= 0x6F || op == 0x8B || op == 0x8C:
		m.arithmetic(op)
	case op == 0x4F: // DEBUG
		m.fail("DEBUG is not for shipped fonts")
	case op == 0x7E: // SANGW: obsolete
		m.pop()
	case op == 0x7F: // AA: obsolete
		m.pop()
	default:
		m.userDefined(op)
	}
}

// pushInline pushes the bytes or words that stand in the program: NPUSHB,
// NPUSHW, PUSHB, PUSHW. Words are signed.
func (m *Machine) pushInline(op byte, at int) {
	data := m.code.bytes[at+1 : m.pc]
	if op == opNPUSHB || op == opNPUSHW {
		data = data[1:]
	}
	if op == opNPUSHB || op >= opPUSHB && op < opPUSHW {
		for _, b := range data {
			m.push(int32(b))
		}
		return
	}
	for ; len(data) > 1; data = data[2:] {
		m.push(int32(int16(uint16(data[0])<<8 | uint16(data[1]))))
	}
}
