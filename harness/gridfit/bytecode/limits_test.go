package bytecode

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Each program would run for hours; each bound stops one.
func TestNoProgramRunsForEver(t *testing.T) {
	for _, c := range []struct {
		reason        string
		fpgm, program []byte
		points        int
		says          string
	}{
		{"a jump back to itself", nil, []byte{0xB8, 0xFF, 0xFD, 0x1C}, 4, "jumps backwards"},
		{"function 0 in rounds", []byte{0xB0, 0, 0x2C, 0x2D}, []byte{0xB9, 0x7F, 0xFF, 0, 0, 0x2A}, 4, "rounds of LOOPCALL"},
		{"a function that calls itself", []byte{0xB0, 0, 0x2C, 0xB0, 0, 0x2B, 0x2D}, []byte{0xB0, 0, 0x2B}, 4, "nest deeper"},
		{"31 functions, each calling the next twice", twice(31), []byte{0xB0, 0, 0x2B}, 4, "instructions"},
		{"and a last one that walks over all points", append(twice(20), 0xB0, 20, 0x2C, 0x30, 0x2D), []byte{0x00, 0xB0, 0, 0x2E, 0xB0, 0, 0x2B}, 30000, "more work"},
		{"or passes over a long branch", append(twice(20), longBranch(20)...), []byte{0xB0, 0, 0x2B}, 4, "more work"},
	} {
		f, err := NewFont(Program{Fpgm: c.fpgm, Glyphs: 1000, Stack: 1 << 8, Functions: 64})
		require.NoError(t, err, c.reason)
		m, err := f.NewMachine(Size{ScaleX: 1 << 16, ScaleY: 1 << 16, PPEMX: 12, PPEMY: 12})
		require.NoError(t, err, c.reason)
		z := &Zone{}
		z.Resize(c.points)
		z.Ends = []int{c.points - 1}
		m.Begin()
		require.ErrorContains(t, m.Run(z, c.program, 1, false), c.says, c.reason)
	}
}

// twice defines functions from 0 on, each calling the next one twice.
func twice(n int) (fpgm []byte) {
	for i := range byte(n) {
		fpgm = append(fpgm, 0xB0, i, 0x2C, 0xB0, i+1, 0x2B, 0xB0, i+1, 0x2B, 0x2D)
	}
	if n == 31 {
		fpgm = append(fpgm, 0xB0, 31, 0x2C, 0x2D)
	}
	return fpgm
}

func longBranch(n byte) []byte {
	f := []byte{0xB0, n, 0x2C, 0xB0, 0, 0x58}
	f = append(f, make([]byte, 30000)...)
	return append(f, 0x59, 0x2D)
}

// All programs of a composite share the glyph's bound.
func TestAGlyphsProgramsShareItsBound(t *testing.T) {
	f, err := NewFont(Program{Fpgm: twice(31), Glyphs: 1000, Stack: 1 << 8, Functions: 64})
	require.NoError(t, err)
	m, err := f.NewMachine(Size{ScaleX: 1, ScaleY: 1, PPEMX: 12, PPEMY: 12})
	require.NoError(t, err)
	z := &Zone{}
	z.Resize(4)
	m.Begin()
	for range maxGlyphSteps / maxSteps {
		require.ErrorContains(t, m.Run(z, []byte{0xB0, 0, 0x2B}, 1, false), "more than 1000000 instructions")
	}
	require.ErrorContains(t, m.Run(z, []byte{0xB0, 0, 0x2B}, 1, false), "more than 0 instructions")
	m.Begin()
	require.NoError(t, m.Run(z, []byte{0xB0, 0}, 2, false), "the next glyph has its own")
}
