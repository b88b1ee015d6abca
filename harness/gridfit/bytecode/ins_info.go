package bytecode

// Chapters "Debugging" and "Miscellaneous instructions".

// Interpreter is the version that GETINFO answers with: the rasterizer of 1998,
// bilevel and full pixel (FreeType, ftdriver.h).
const Interpreter = 35

// debug: DEBUG[], 0x4F
// Pops:   n
// Pushes: nothing
// Does:   fails: it is not for shipped fonts
// Spec:   Debugging
func (m *Machine) debug() {
	m.pop()
	m.fail("DEBUG is not for shipped fonts")
}

// getinfo: GETINFO[], 0x88
// Pops:   n, a selector
// Pushes: n
// Does:   answers bit 0 with the version; glyphs are neither turned nor stretched, and
// output is bilevel, so the answer to every other bit is 0
// Spec:   Miscellaneous instructions
func (m *Machine) getinfo() {
	answer := int32(0)
	if m.pop()&1 != 0 {
		answer = Interpreter
	}
	m.push(answer)
}
