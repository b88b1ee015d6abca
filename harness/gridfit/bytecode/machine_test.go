package bytecode

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// stackAfter runs a program and returns what it leaves on the stack.
func stackAfter(t *testing.T, program ...byte) []int32 {
	m := sized(t, Program{Storage: 4, Twilight: 4, Stack: 64, CVT: []int16{100, 200}}, 12)
	require.NoError(t, m.Run(&Zone{}, program, 1, false))
	return m.stack[:m.top]
}

// sized runs the face's programs for a whole ppem at which a font unit is a 64th
// of a pixel.
func sized(t testing.TB, p Program, ppem int) *Machine {
	p.Glyphs = 100
	f, err := NewFont(p)
	require.NoError(t, err)
	m, err := f.NewMachine(Size{ScaleX: 1 << 16, ScaleY: 1 << 16, PPEMX: ppem, PPEMY: ppem})
	require.NoError(t, err)
	return m
}

// Bytes are those of OpenType, "The TrueType instruction set".
func TestProgramsLeaveTheirStack(t *testing.T) {
	for _, c := range []struct {
		reason  string
		program []byte
		want    []int32
	}{
		{"PUSHB pushes unsigned bytes", []byte{0xB1, 1, 255}, []int32{1, 255}},
		{"PUSHW pushes signed words", []byte{0xB8, 0xFF, 0xFE}, []int32{-2}},
		{"NPUSHB counts its bytes", []byte{0x40, 2, 7, 8}, []int32{7, 8}},
		{"NPUSHW counts its words", []byte{0x41, 1, 0x01, 0x00}, []int32{256}},
		{"DUP, SWAP, POP", []byte{0xB1, 1, 2, 0x20, 0x21, 0x23}, []int32{2, 1}},
		{"ROLL turns the top three", []byte{0xB2, 1, 2, 3, 0x8A}, []int32{2, 3, 1}},
		{"CINDEX copies the k-th", []byte{0xB3, 5, 6, 7, 3, 0x25}, []int32{5, 6, 7, 5}},
		{"MINDEX moves the k-th", []byte{0xB3, 5, 6, 7, 3, 0x26}, []int32{6, 7, 5}},
		{"DEPTH, CLEAR", []byte{0xB1, 9, 9, 0x22, 0x24}, []int32{0}},
		{"ADD, SUB", []byte{0xB2, 10, 3, 4, 0x60, 0x61}, []int32{3}},
		{"MUL is 26.6: 1.5 × 2", []byte{0xB1, 96, 128, 0x63}, []int32{192}},
		{"DIV is 26.6: 3 / 2", []byte{0xB1, 192, 128, 0x62}, []int32{96}},
		{"FLOOR, CEILING", []byte{0xB0, 70, 0x66, 0xB0, 70, 0x67}, []int32{64, 128}},
		{"ABS of NEG", []byte{0xB0, 5, 0x65, 0x64}, []int32{5}},
		{"MAX, MIN", []byte{0xB1, 3, 9, 0x8B, 0xB1, 3, 9, 0x8C}, []int32{9, 3}},
		{"LT, GTEQ, EQ", []byte{0xB1, 1, 2, 0x50, 0xB1, 1, 2, 0x53, 0xB1, 2, 2, 0x54}, []int32{1, 0, 1}},
		{"ODD of 1 px, EVEN of 1 px", []byte{0xB0, 64, 0x56, 0xB0, 64, 0x57}, []int32{1, 0}},
		{"IF takes its true branch", []byte{0xB0, 1, 0x58, 0xB0, 7, 0x1B, 0xB0, 8, 0x59}, []int32{7}},
		{"IF takes its ELSE", []byte{0xB0, 0, 0x58, 0xB0, 7, 0x1B, 0xB0, 8, 0x59}, []int32{8}},
		{"a skipped branch's data is no opcode", []byte{0xB0, 0, 0x58, 0xB0, 0x59, 0x59, 0xB0, 3}, []int32{3}},
		{"JMPR counts from itself", []byte{0xB0, 3, 0x1C, 0xB0, 9, 0xB0, 4}, []int32{4}},
		{"JROT jumps on true, JROF does not", []byte{0xB1, 3, 1, 0x78, 0xB0, 9, 0xB1, 3, 1, 0x79, 0xB0, 5}, []int32{5}},
		{"WS then RS", []byte{0xB1, 2, 77, 0x42, 0xB0, 2, 0x43}, []int32{77}},
		{"RCVT is scaled", []byte{0xB0, 1, 0x45}, []int32{200}},
		{"WCVTP then RCVT", []byte{0xB1, 0, 33, 0x44, 0xB0, 0, 0x45}, []int32{33}},
		{"MPPEM", []byte{0x4B}, []int32{12}},
		{"GETINFO answers version 35 (FreeType, ttinterp.c)", []byte{0xB0, 1, 0x88}, []int32{35}},
		{"GETINFO knows no grey in bilevel output", []byte{0xB0, 32, 0x88}, []int32{0}},
		{"GPV after SVTCA[x]", []byte{0x01, 0x0C}, []int32{0x4000, 0}},
		{"POP of an empty stack gives nothing to fall over", []byte{0x21, 0xB0, 1}, []int32{1}},
	} {
		got := stackAfter(t, c.program...)
		require.Equal(t, c.want, append([]int32{}, got...), c.reason)
	}
}

func TestFunctionsAndOwnInstructionsRunAsDefined(t *testing.T) {
	// FDEF 3: ADD; FDEF 4: DUP; IDEF 0x91: pushes 9.
	fpgm := []byte{0xB0, 3, 0x2C, 0x60, 0x2D, 0xB0, 4, 0x2C, 0x20, 0x2D, 0xB0, 0x91, 0x89, 0xB0, 9, 0x2D}
	m := sized(t, Program{Fpgm: fpgm, Stack: 64, Functions: 2, Instructions: 1}, 12)
	require.NoError(t, m.Run(&Zone{}, []byte{0xB2, 1, 2, 3, 0x2B}, 1, false))
	require.Equal(t, []int32{3}, m.stack[:m.top], "CALL")
	require.NoError(t, m.Run(&Zone{}, []byte{0xB2, 1, 3, 4, 0x2A}, 1, false))
	require.Equal(t, []int32{1, 1, 1, 1}, m.stack[:m.top], "LOOPCALL three times")
	require.NoError(t, m.Run(&Zone{}, []byte{0x91}, 1, false))
	require.Equal(t, []int32{9}, m.stack[:m.top], "IDEF")
}

// A composite's points are measured in pixels already, but its program's font
// units are still the face's (FreeType, ttinterp.c, Ins_WCVTF).
func TestCompositesMeasureInPixelsButKeepTheScaleOfControlValues(t *testing.T) {
	f, err := NewFont(Program{CVT: []int16{0}, Stack: 16, Glyphs: 1})
	require.NoError(t, err)
	m, err := f.NewMachine(Size{ScaleX: 1 << 15, ScaleY: 1 << 15, PPEMX: 12, PPEMY: 12})
	require.NoError(t, err)
	z := &Zone{}
	z.Resize(2)
	z.Unscaled.X[1], z.Original.X[1], z.Current.X[1] = 80, 80, 80
	program := []byte{0x01, 0xB1, 0, 100, 0x70, 0xB0, 0, 0x45, 0xB1, 1, 0, 0x4A} // WCVTF, RCVT, MD of the original
	require.NoError(t, m.Run(z, program, 1, true))
	require.Equal(t, []int32{50, 80}, m.stack[:m.top], "half of 100 units; 80/64 px as they are")
}

// Values of the round states in 26.6 (FreeType, ttinterp.c).
func TestDistancesAreRoundedByEachRoundState(t *testing.T) {
	for _, c := range []struct {
		mode roundMode
		pass map[int32]int32
	}{
		{toGrid, map[int32]int32{31: 0, 32: 64, 95: 64, 96: 128, -32: -64}},
		{toHalfGrid, map[int32]int32{0: 32, 63: 32, 64: 96}},
		{toDoubleGrid, map[int32]int32{15: 0, 16: 32, 47: 32, 48: 64}},
		{downToGrid, map[int32]int32{63: 0, 64: 64, -1: 0}},
		{upToGrid, map[int32]int32{0: 0, 1: 64, 64: 64, 65: 128}},
		{roundOff, map[int32]int32{17: 17, -5: -5}},
	} {
		for in, want := range c.pass {
			r := roundState{mode: c.mode}
			require.Equal(t, want, r.round(in), "mode %d of %d", c.mode, in)
		}
	}
}

// Computed from the same source: each plain state has its selector for SROUND.
func TestSuperRoundingEqualsThePlainStates(t *testing.T) {
	for selector, mode := range map[int32]roundMode{0x48: toGrid, 0x68: toHalfGrid, 0x08: toDoubleGrid, 0x44: downToGrid, 0x40: upToGrid} {
		s, plain := roundState{}, roundState{mode: mode}
		s.set(super, 0x4000, selector)
		for v := int32(-400); v <= 400; v++ {
			require.Equal(t, plain.round(v), s.round(v), "SROUND 0x%02X of %d", selector, v)
		}
	}
	s := roundState{}
	s.set(super, 0x4000, 0x47) // the published figure of "TrueType Fundamentals", SROUND[] 71
	require.Equal(t, int32(0), s.round(39))
	require.Equal(t, int32(64), s.round(40))
}

// Deltas by their defaults: base 9, shift 3 ("Managing exceptions").
func TestDeltasMoveAtTheirPPEMOnly(t *testing.T) {
	for _, c := range []struct {
		ppem int
		arg  byte
		want int32
	}{{9, 0x00, -64}, {10, 0x00, 0}, {24, 0xFF, 64}, {9, 0x08, 8}} {
		m := sized(t, Program{Stack: 16}, c.ppem)
		z := &Zone{}
		z.Resize(1)
		require.NoError(t, m.Run(z, []byte{0x00, 0xB2, c.arg, 0, 1, 0x5D}, 1, false)) // SVTCA[y], DELTAP1
		require.Equal(t, c.want, z.Current.Y[0], "0x%02X at %d ppem", c.arg, c.ppem)
	}
}

// Words of "SCANCTRL[]". 0x0A10 is on for turned glyphs up to 16 ppem, and ours are
// never turned; bits 8 to 13 as FreeType takes them (ttinterp.c, Ins_SCANCTRL).
func TestScanControlGoesByWordAndSize(t *testing.T) {
	for _, c := range []struct {
		reason string
		word   uint16
		ppem   int
		before bool
		on     bool
	}{
		{"never", 0x0000, 12, true, false},
		{"always", 0x01FF, 2000, false, true},
		{"0xFF alone says always", 0x00FF, 2000, false, true},
		{"on up to 16 ppem", 0x0110, 16, false, true},
		{"on up to 16 ppem says nothing of 17", 0x0110, 17, true, true},
		{"and leaves it off", 0x0110, 17, false, false},
		{"on for turned glyphs", 0x0A10, 12, false, false},
		{"off above 16 ppem", 0x0A10, 17, true, false},
		{"16 itself is not above", 0x0A10, 16, true, true},
		{"off unless turned counts for turned glyphs only", 0x1010, 12, true, true},
		{"off unless stretched counts for stretched ones only", 0x2010, 12, true, true},
	} {
		m := sized(t, Program{Stack: 16}, c.ppem)
		m.sized.scanControl = c.before
		require.NoError(t, m.Run(&Zone{}, []byte{0xB8, byte(c.word >> 8), byte(c.word), 0x85}, 1, false))
		require.Equal(t, c.on, m.Dropout() >= 0, "%s: 0x%04X at %d ppem", c.reason, c.word, c.ppem)
	}
}

func TestFaultsNameProgramPlaceAndOpcode(t *testing.T) {
	for _, c := range []struct {
		reason  string
		program []byte
		what    string
	}{
		{"a loop without end is cut off", []byte{0xB8, 0xFF, 0xFD, 0x1C}, "may loop for ever"},
		{"an opcode that nobody defined", []byte{0x91}, "not defined"},
		{"a function that nobody defined", []byte{0xB0, 200, 0x2B}, "function 200"},
		{"IF without EIF", []byte{0xB0, 0, 0x58}, "IF without EIF"},
		{"division by zero", []byte{0xB1, 1, 0, 0x62}, "DIV by zero"},
		{"data cut short", []byte{0xB7, 1}, "ends inside"},
	} {
		m := sized(t, Program{Stack: 1 << 10}, 12)
		err := m.Run(&Zone{}, c.program, 1, false)
		var fault *Error
		require.ErrorAs(t, err, &fault, c.reason)
		require.Equal(t, "glyf", fault.Program, c.reason)
		require.Contains(t, fault.Error(), c.what, c.reason)
	}
}

func FuzzMachine(f *testing.F) {
	f.Add([]byte{0xB0, 0, 0x2C, 0x20, 0x2D}, []byte{0xB0, 0, 0x2B}, []byte{0xB1, 0, 1, 0x2E, 0x30})
	f.Add([]byte{0xB0, 0x91, 0x89, 0xB0, 9, 0x2D}, []byte{0x91}, []byte{0x16, 0xB1, 0, 1, 0x3F, 0x39, 0x35, 0x37, 0x0F})
	f.Fuzz(func(t *testing.T, fpgm, prep, glyph []byte) {
		font, err := NewFont(Program{
			Fpgm: fpgm, Prep: prep, CVT: []int16{1, 2, 3}, Glyphs: 10, Storage: 2, Twilight: 3, Stack: 32, Functions: 4, Instructions: 4,
		})
		if err != nil {
			return
		}
		m, err := font.NewMachine(Size{ScaleX: 30000, ScaleY: 40000, PPEMX: 9, PPEMY: 12})
		if err != nil {
			return
		}
		fit := func() *Zone {
			z := &Zone{}
			z.Resize(6)
			z.Ends = []int{1}
			m.Begin()
			_ = m.Run(z, glyph, 1, false)
			return z
		}
		require.Equal(t, fit(), fit(), "a glyph does not remember what was drawn before it")
	})
}
