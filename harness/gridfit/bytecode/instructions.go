package bytecode

// instruction is one opcode: what it is called, how many values it takes from the
// stack and puts there before its own data, and what runs it.
type instruction struct {
	run          func(*Machine)
	pops, pushes uint8
	grows        int8  // pushes - pops
	length       uint8 // as in lengths
	name         string
}

// Name is what the specification calls an opcode; "undefined" where IDEF may say
// what it does.
func Name(opcode byte) string { return instructions[opcode].name }

// instructions are all 256 opcodes (OpenType, "The TrueType instruction set").
// What an instruction does is told with its method.
var instructions = func() (table [256]instruction) {
	for op := range table {
		table[op] = instruction{run: (*Machine).undefined, name: "undefined"}
	}
	for _, s := range spans {
		for op := int(s.first); op <= int(s.last); op++ {
			table[op] = instruction{run: s.run, pops: s.pops, pushes: s.pushes, name: s.name}
		}
	}
	for op := range table {
		table[op].grows = int8(table[op].pushes) - int8(table[op].pops)
		table[op].length = lengths[op]
	}
	return table
}()

// spans are opcodes with the same name: the bits of an opcode choose a variant.
var spans = []struct {
	first, last  byte
	run          func(*Machine)
	pops, pushes uint8
	name         string
}{
	{0x00, 0x01, (*Machine).svtca, 0, 0, "SVTCA"},
	{0x02, 0x03, (*Machine).spvtca, 0, 0, "SPVTCA"},
	{0x04, 0x05, (*Machine).sfvtca, 0, 0, "SFVTCA"},
	{0x06, 0x07, (*Machine).spvtl, 2, 0, "SPVTL"},
	{0x08, 0x09, (*Machine).sfvtl, 2, 0, "SFVTL"},
	{0x0A, 0x0A, (*Machine).spvfs, 2, 0, "SPVFS"},
	{0x0B, 0x0B, (*Machine).sfvfs, 2, 0, "SFVFS"},
	{0x0C, 0x0C, (*Machine).gpv, 0, 2, "GPV"},
	{0x0D, 0x0D, (*Machine).gfv, 0, 2, "GFV"},
	{0x0E, 0x0E, (*Machine).sfvtpv, 0, 0, "SFVTPV"},
	{0x0F, 0x0F, (*Machine).isect, 5, 0, "ISECT"},
	{0x10, 0x10, (*Machine).srp, 1, 0, "SRP0"},
	{0x11, 0x11, (*Machine).srp, 1, 0, "SRP1"},
	{0x12, 0x12, (*Machine).srp, 1, 0, "SRP2"},
	{0x13, 0x13, (*Machine).szp, 1, 0, "SZP0"},
	{0x14, 0x14, (*Machine).szp, 1, 0, "SZP1"},
	{0x15, 0x15, (*Machine).szp, 1, 0, "SZP2"},
	{0x16, 0x16, (*Machine).szps, 1, 0, "SZPS"},
	{0x17, 0x17, (*Machine).sloop, 1, 0, "SLOOP"},
	{0x18, 0x18, (*Machine).rtg, 0, 0, "RTG"},
	{0x19, 0x19, (*Machine).rthg, 0, 0, "RTHG"},
	{0x1A, 0x1A, (*Machine).smd, 1, 0, "SMD"},
	{0x1B, 0x1B, (*Machine).ifElse, 0, 0, "ELSE"},
	{0x1C, 0x1C, (*Machine).jmpr, 1, 0, "JMPR"},
	{0x1D, 0x1D, (*Machine).scvtci, 1, 0, "SCVTCI"},
	{0x1E, 0x1E, (*Machine).sswci, 1, 0, "SSWCI"},
	{0x1F, 0x1F, (*Machine).ssw, 1, 0, "SSW"},
	{0x20, 0x20, (*Machine).dup, 1, 2, "DUP"},
	{0x21, 0x21, (*Machine).popTop, 1, 0, "POP"},
	{0x22, 0x22, (*Machine).clearStack, 0, 0, "CLEAR"},
	{0x23, 0x23, (*Machine).swap, 2, 2, "SWAP"},
	{0x24, 0x24, (*Machine).depth, 0, 1, "DEPTH"},
	{0x25, 0x25, (*Machine).cindex, 1, 1, "CINDEX"},
	{0x26, 0x26, (*Machine).mindex, 1, 0, "MINDEX"},
	{0x27, 0x27, (*Machine).alignpts, 2, 0, "ALIGNPTS"},
	{0x29, 0x29, (*Machine).utp, 1, 0, "UTP"},
	{0x2A, 0x2A, (*Machine).loopcall, 2, 0, "LOOPCALL"},
	{0x2B, 0x2B, (*Machine).call, 1, 0, "CALL"},
	{0x2C, 0x2C, (*Machine).fdef, 1, 0, "FDEF"},
	{0x2D, 0x2D, (*Machine).endf, 0, 0, "ENDF"},
	{0x2E, 0x2F, (*Machine).mdap, 1, 0, "MDAP"},
	{0x30, 0x31, (*Machine).iup, 0, 0, "IUP"},
	{0x32, 0x33, (*Machine).shp, 0, 0, "SHP"},
	{0x34, 0x35, (*Machine).shc, 1, 0, "SHC"},
	{0x36, 0x37, (*Machine).shz, 1, 0, "SHZ"},
	{0x38, 0x38, (*Machine).shpix, 1, 0, "SHPIX"},
	{0x39, 0x39, (*Machine).ip, 0, 0, "IP"},
	{0x3A, 0x3B, (*Machine).msirp, 2, 0, "MSIRP"},
	{0x3C, 0x3C, (*Machine).alignrp, 0, 0, "ALIGNRP"},
	{0x3D, 0x3D, (*Machine).rtdg, 0, 0, "RTDG"},
	{0x3E, 0x3F, (*Machine).miap, 2, 0, "MIAP"},
	{0x40, 0x40, (*Machine).npushb, 0, 0, "NPUSHB"},
	{0x41, 0x41, (*Machine).npushw, 0, 0, "NPUSHW"},
	{0x42, 0x42, (*Machine).ws, 2, 0, "WS"},
	{0x43, 0x43, (*Machine).rs, 1, 1, "RS"},
	{0x44, 0x44, (*Machine).wcvtp, 2, 0, "WCVTP"},
	{0x45, 0x45, (*Machine).rcvt, 1, 1, "RCVT"},
	{0x46, 0x47, (*Machine).gc, 1, 1, "GC"},
	{0x48, 0x48, (*Machine).scfs, 2, 0, "SCFS"},
	{0x49, 0x4A, (*Machine).md, 2, 1, "MD"},
	{0x4B, 0x4B, (*Machine).mppem, 0, 1, "MPPEM"},
	{0x4C, 0x4C, (*Machine).mps, 0, 1, "MPS"},
	{0x4D, 0x4D, (*Machine).flipon, 0, 0, "FLIPON"},
	{0x4E, 0x4E, (*Machine).flipoff, 0, 0, "FLIPOFF"},
	{0x4F, 0x4F, (*Machine).debug, 1, 0, "DEBUG"},
	{0x50, 0x50, (*Machine).lt, 2, 1, "LT"},
	{0x51, 0x51, (*Machine).lteq, 2, 1, "LTEQ"},
	{0x52, 0x52, (*Machine).gt, 2, 1, "GT"},
	{0x53, 0x53, (*Machine).gteq, 2, 1, "GTEQ"},
	{0x54, 0x54, (*Machine).eq, 2, 1, "EQ"},
	{0x55, 0x55, (*Machine).neq, 2, 1, "NEQ"},
	{0x56, 0x56, (*Machine).odd, 1, 1, "ODD"},
	{0x57, 0x57, (*Machine).even, 1, 1, "EVEN"},
	{0x58, 0x58, (*Machine).ifTrue, 1, 0, "IF"},
	{0x59, 0x59, (*Machine).ifEnd, 0, 0, "EIF"},
	{0x5A, 0x5A, (*Machine).and, 2, 1, "AND"},
	{0x5B, 0x5B, (*Machine).or, 2, 1, "OR"},
	{0x5C, 0x5C, (*Machine).not, 1, 1, "NOT"},
	{0x5D, 0x5D, (*Machine).deltap, 1, 0, "DELTAP1"},
	{0x5E, 0x5E, (*Machine).sdb, 1, 0, "SDB"},
	{0x5F, 0x5F, (*Machine).sds, 1, 0, "SDS"},
	{0x60, 0x60, (*Machine).add, 2, 1, "ADD"},
	{0x61, 0x61, (*Machine).subtract, 2, 1, "SUB"},
	{0x62, 0x62, (*Machine).div, 2, 1, "DIV"},
	{0x63, 0x63, (*Machine).mul, 2, 1, "MUL"},
	{0x64, 0x64, (*Machine).absolute, 1, 1, "ABS"},
	{0x65, 0x65, (*Machine).neg, 1, 1, "NEG"},
	{0x66, 0x66, (*Machine).floor, 1, 1, "FLOOR"},
	{0x67, 0x67, (*Machine).ceiling, 1, 1, "CEILING"},
	{0x68, 0x6B, (*Machine).roundValue, 1, 1, "ROUND"},
	{0x6C, 0x6F, (*Machine).nround, 1, 1, "NROUND"},
	{0x70, 0x70, (*Machine).wcvtf, 2, 0, "WCVTF"},
	{0x71, 0x71, (*Machine).deltap, 1, 0, "DELTAP2"},
	{0x72, 0x72, (*Machine).deltap, 1, 0, "DELTAP3"},
	{0x73, 0x73, (*Machine).deltac, 1, 0, "DELTAC1"},
	{0x74, 0x74, (*Machine).deltac, 1, 0, "DELTAC2"},
	{0x75, 0x75, (*Machine).deltac, 1, 0, "DELTAC3"},
	{0x76, 0x76, (*Machine).sround, 1, 0, "SROUND"},
	{0x77, 0x77, (*Machine).s45round, 1, 0, "S45ROUND"},
	{0x78, 0x78, (*Machine).jrot, 2, 0, "JROT"},
	{0x79, 0x79, (*Machine).jrof, 2, 0, "JROF"},
	{0x7A, 0x7A, (*Machine).roff, 0, 0, "ROFF"},
	{0x7C, 0x7C, (*Machine).rutg, 0, 0, "RUTG"},
	{0x7D, 0x7D, (*Machine).rdtg, 0, 0, "RDTG"},
	{0x7E, 0x7E, (*Machine).sangw, 1, 0, "SANGW"},
	{0x7F, 0x7F, (*Machine).aa, 1, 0, "AA"},
	{0x80, 0x80, (*Machine).flippt, 0, 0, "FLIPPT"},
	{0x81, 0x81, (*Machine).fliprgon, 2, 0, "FLIPRGON"},
	{0x82, 0x82, (*Machine).fliprgoff, 2, 0, "FLIPRGOFF"},
	{0x85, 0x85, (*Machine).scanctrl, 1, 0, "SCANCTRL"},
	{0x86, 0x87, (*Machine).sdpvtl, 2, 0, "SDPVTL"},
	{0x88, 0x88, (*Machine).getinfo, 1, 1, "GETINFO"},
	{0x89, 0x89, (*Machine).idef, 1, 0, "IDEF"},
	{0x8A, 0x8A, (*Machine).roll, 3, 3, "ROLL"},
	{0x8B, 0x8B, (*Machine).maximum, 2, 1, "MAX"},
	{0x8C, 0x8C, (*Machine).minimum, 2, 1, "MIN"},
	{0x8D, 0x8D, (*Machine).scantype, 1, 0, "SCANTYPE"},
	{0x8E, 0x8E, (*Machine).instctrl, 2, 0, "INSTCTRL"},
	{0xB0, 0xB7, (*Machine).pushb, 0, 0, "PUSHB"},
	{0xB8, 0xBF, (*Machine).pushw, 0, 0, "PUSHW"},
	{0xC0, 0xDF, (*Machine).mdrp, 1, 0, "MDRP"},
	{0xE0, 0xFF, (*Machine).mirp, 2, 0, "MIRP"},
}
