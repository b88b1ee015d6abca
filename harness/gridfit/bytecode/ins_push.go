package bytecode

// Chapter "Pushing data onto the interpreter stack".

// npushb: NPUSHB[], 0x40
// Pops:   nothing
// Pushes: as many bytes as the program's next byte says
// Does:   pushes bytes from the program, none below 0
// Spec:   Pushing data onto the interpreter stack
func (m *Machine) npushb() { m.pushBytes(m.code[m.pc+2 : m.next]) }

// npushw: NPUSHW[], 0x41
// Pops:   nothing
// Pushes: as many words as the program's next byte says
// Does:   pushes signed words from the program
// Spec:   Pushing data onto the interpreter stack
func (m *Machine) npushw() { m.pushWords(m.code[m.pc+2 : m.next]) }

// pushb: PUSHB[n], 0xB0 to 0xB7
// Pops:   nothing
// Pushes: n + 1 bytes
// Does:   pushes bytes from the program, none below 0
// Spec:   Pushing data onto the interpreter stack
func (m *Machine) pushb() { m.pushBytes(m.code[m.pc+1 : m.next]) }

// pushw: PUSHW[n], 0xB8 to 0xBF
// Pops:   nothing
// Pushes: n + 1 words
// Does:   pushes signed words from the program
// Spec:   Pushing data onto the interpreter stack
func (m *Machine) pushw() { m.pushWords(m.code[m.pc+1 : m.next]) }

func (m *Machine) pushBytes(data []byte) {
	room := m.stack[m.top:]
	if len(data) > len(room) {
		m.failFull()
		return
	}
	for i, b := range data {
		room[i] = int32(b)
	}
	m.top += len(data)
}

func (m *Machine) pushWords(data []byte) {
	room := m.stack[m.top:]
	if len(data)/2 > len(room) {
		m.failFull()
		return
	}
	for i := range len(data) / 2 {
		room[i] = int32(int16(uint16(data[2*i])<<8 | uint16(data[2*i+1])))
	}
	m.top += len(data) / 2
}
