package bytecode

// Opcodes that a program is read by, before any instruction runs.
const (
	opELSE   = 0x1B
	opFDEF   = 0x2C
	opENDF   = 0x2D
	opNPUSHB = 0x40
	opNPUSHW = 0x41
	opIF     = 0x58
	opEIF    = 0x59
	opIDEF   = 0x89
	opPUSHB  = 0xB0
	opPUSHW  = 0xB8
	opMDRP   = 0xC0
	opMIRP   = 0xE0
)

// lengths are the bytes of each instruction with its inline data; 0 for the two
// whose second byte tells.
var lengths = func() (n [256]uint8) {
	for op := range n {
		switch {
		case op == opNPUSHB || op == opNPUSHW:
		case op >= opPUSHB && op < opPUSHW:
			n[op] = uint8(2 + op - opPUSHB)
		case op >= opPUSHW && op < opMDRP:
			n[op] = uint8(3 + 2*(op-opPUSHW))
		default:
			n[op] = 1
		}
	}
	return n
}()

// after is where the instruction behind the one at a byte stands; past the end of
// the code where the code ends inside the instruction.
func after(code []byte, at int) int {
	op := code[at]
	if n := lengths[op]; n != 0 {
		return at + int(n)
	}
	switch {
	case at+1 >= len(code):
		return at + 2
	case op == opNPUSHB:
		return at + 2 + int(code[at+1])
	}
	return at + 2 + 2*int(code[at+1])
}
