package bytecode

// Opcodes whose numbers other code needs (OpenType, "The TrueType instruction set").
const (
	opELSE    = 0x1B
	opFDEF    = 0x2C
	opENDF    = 0x2D
	opNPUSHB  = 0x40
	opNPUSHW  = 0x41
	opIF      = 0x58
	opEIF     = 0x59
	opIDEF    = 0x89
	opPUSHB   = 0xB0
	opPUSHW   = 0xB8
	firstMDRP = 0xC0
	firstMIRP = 0xE0
)
