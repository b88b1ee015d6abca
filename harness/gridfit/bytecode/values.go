package bytecode

// Interpreter is the version that GETINFO answers with: the rasterizer of 1998,
// bilevel and full pixel.
const Interpreter = 35

// values moves numbers between the stack and storage, control values, points
// and the engine ("Managing the storage area", "… the control value table",
// "… point coordinates", "Reading …").
func (m *Machine) values(op byte) {
	switch op {
	case 0x42: // WS: index, value →
		v, i := m.pop(), m.pop()
		if i >= 0 && int(i) < len(m.storage) {
			m.storage[i] = v
		}
	case 0x43: // RS: index → value
		i := m.pop()
		v := int32(0)
		if i >= 0 && int(i) < len(m.storage) {
			v = m.storage[i]
		}
		m.push(v)
	case 0x44: // WCVTP: index, pixels →
		v, i := m.pop(), m.pop()
		m.writeCVT(i, v)
	case 0x70: // WCVTF: index, font units →
		v, i := m.pop(), m.pop()
		if i >= 0 && int(i) < len(m.cvt) {
			m.cvt[i] = MulFix(v, m.scale)
		}
	case 0x45: // RCVT: index → pixels
		m.push(m.readCVT(m.pop()))
	case 0x46, 0x47: // GC[a]: point → coordinate
		m.coordinate(op)
	case 0x48: // SCFS: point, coordinate →
		v, p := m.pop(), m.pop()
		z := m.zone(2)
		if !z.has(p) {
			return
		}
		m.move(z, p, v-m.project(z.Current[p]))
		if z == &m.twilight {
			z.Original[p] = z.Current[p]
		}
	case 0x49, 0x4A: // MD[a]: p1, p2 → distance
		m.distance(op)
	case 0x4B: // MPPEM: → ppem
		m.push(m.ppem())
	case 0x4C: // MPS: → ppem too; version 35 knows no other size
		m.push(m.ppem())
	case 0x88: // GETINFO: selector → answer
		answer := int32(0)
		if m.pop()&1 != 0 {
			answer = Interpreter
		}
		m.push(answer)
	}
}

func (m *Machine) coordinate(op byte) {
	p := m.pop()
	z := m.zone(2)
	switch {
	case !z.has(p):
		m.push(0)
	case op&1 != 0:
		m.push(m.dualProject(z.Original[p]))
	default:
		m.push(m.project(z.Current[p]))
	}
}

// distance measures on the grid-fitted outline (0x49) or the original one (0x4A).
func (m *Machine) distance(op byte) {
	k, l := m.pop(), m.pop()
	z0, z1 := m.zone(0), m.zone(1)
	switch {
	case !z0.has(l) || !z1.has(k):
		m.push(0)
	case op&1 != 0:
		m.push(m.project(sub(z0.Current[l], z1.Current[k])))
	default:
		m.push(m.original(z0, l, z1, k))
	}
}
