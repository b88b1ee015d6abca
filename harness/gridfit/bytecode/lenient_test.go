package bytecode

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Where a program breaks a rule, the machine does what FreeType does without
// FT_LOAD_PEDANTIC (2.12.1, ttinterp.c; the function is named with each case):
// shipped fonts break them all.
func TestBrokenRulesAreForgivenAsFreeTypeForgivesThem(t *testing.T) {
	for _, c := range []struct {
		reason  string
		program []byte
		stack   []int32
		rp      [3]int
		zp      [3]int
	}{
		{"TT_RunIns: too few values are all zero, not only those missing", []byte{0xB0, 5, 0x60}, []int32{0}, [3]int{}, ones},
		{"Ins_MIAP: a missing control value sets rp0 and rp1 all the same", []byte{0xB1, 2, 99, 0x3F}, nil, [3]int{2, 2, 0}, ones},
		{"Ins_MIAP: and so does a missing point", []byte{0xB1, 77, 0, 0x3F}, nil, [3]int{77, 77, 0}, ones},
		{"Ins_MDAP: a missing point sets nothing", []byte{0xB0, 77, 0x2F}, nil, [3]int{}, ones},
		{"Ins_MDRP: a missing point moves the reference points on", []byte{0xB0, 3, 0x10, 0xB0, 77, 0xC0}, nil, [3]int{3, 3, 77}, ones},
		{"Ins_MIRP: bit 4 makes a missing point rp0", []byte{0xB0, 3, 0x10, 0xB1, 77, 0, 0xF0}, nil, [3]int{77, 3, 77}, ones},
		{"Ins_MSIRP: a missing point sets nothing", []byte{0xB1, 77, 64, 0x3B}, nil, [3]int{}, ones},
		{"Ins_SZP0: zone 2 changes nothing", []byte{0xB0, 2, 0x13}, nil, [3]int{}, ones},
		{"Ins_SZPS: nor does zone 9", []byte{0xB0, 0, 0x16, 0xB0, 9, 0x16}, nil, [3]int{}, [3]int{}},
		{"Ins_INSTCTRL: selector 9 changes nothing", []byte{0xB1, 1, 9, 0x8E}, nil, [3]int{}, ones},
		{"Ins_SHP: SLOOP asks for more than there is, so none is taken", []byte{0xB0, 3, 0x17, 0xB1, 0, 1, 0x32}, []int32{0, 1}, [3]int{}, ones},
		{"Ins_SHP: and SLOOP counts for that one instruction", []byte{0xB0, 3, 0x17, 0xB1, 0, 1, 0x32, 0x32}, []int32{0}, [3]int{}, ones},
		{"Ins_SHPIX: the distance is taken, the points are not", []byte{0xB0, 3, 0x17, 0xB2, 0, 1, 64, 0x38}, []int32{0, 1}, [3]int{}, ones},
		{"Ins_IP", []byte{0xB0, 3, 0x17, 0xB1, 0, 1, 0x39}, []int32{0, 1}, [3]int{}, ones},
		{"Ins_IP: without rp1 the points stay", []byte{0xB0, 77, 0x11, 0xB1, 0, 1, 0x39}, []int32{0, 1}, [3]int{0, 77, 0}, ones},
		{"Ins_ALIGNRP", []byte{0xB0, 3, 0x17, 0xB1, 0, 1, 0x3C}, []int32{0, 1}, [3]int{}, ones},
		{"Ins_ALIGNRP: without rp0 the points stay", []byte{0xB0, 77, 0x10, 0xB1, 0, 1, 0x3C}, []int32{0, 1}, [3]int{77, 0, 0}, ones},
		{"Ins_FLIPPT", []byte{0xB0, 3, 0x17, 0xB1, 0, 1, 0x80}, []int32{0, 1}, [3]int{}, ones},
		{"Ins_DELTAP: a pair and a half is one pair, and the rest is dropped", []byte{0xB3, 7, 0, 1, 5, 0x5D}, []int32{}, [3]int{}, ones},
		{"Ins_SRP0: points have 16 bits", []byte{0xB8, 0xFF, 0xFF, 0x10}, nil, [3]int{0xFFFF, 0, 0}, ones},
		{"Ins_JMPR: a jump past the last byte ends the program", []byte{0xB0, 50, 0x1C}, nil, [3]int{}, ones},
		{"Ins_CINDEX: a value that is not there is 0", []byte{0xB0, 9, 0x25}, []int32{0}, [3]int{}, ones},
		{"Ins_MINDEX: and moves nothing", []byte{0xB1, 4, 9, 0x26}, []int32{4}, [3]int{}, ones},
		{"Ins_SHC: the twilight zone has one contour", []byte{0xB0, 0, 0x16, 0xB0, 1, 0x34}, nil, [3]int{}, [3]int{}},
		{"Ins_RS, Ins_RCVT: what is not there is 0", []byte{0xB0, 99, 0x43, 0xB0, 99, 0x45}, []int32{0, 0}, [3]int{}, ones},
	} {
		m := sized(t, Program{Storage: 1, Twilight: 4, Stack: 16, CVT: []int16{64}}, 12)
		z := &Zone{}
		z.Resize(6)
		z.Ends = []int{1}
		require.NoError(t, m.Run(z, c.program, 1, false), c.reason)
		require.Equal(t, append([]int32{}, c.stack...), append([]int32{}, m.stack[:m.top]...), c.reason)
		require.Equal(t, c.rp, m.gs.rp, c.reason)
		require.Equal(t, c.zp, m.gs.zp, c.reason)
	}
}

var ones = [3]int{1, 1, 1}

// Points that coincided originally give the X axis, and no quarter turn after that
// (FreeType, ttinterp.c, Ins_SDPVTL).
func TestADualVectorOfCoincidingPointsIsTheXAxis(t *testing.T) {
	m := sized(t, Program{Stack: 16}, 12)
	z := &Zone{}
	z.Resize(6)
	z.Current.Y[1] = 64
	require.NoError(t, m.Run(z, []byte{0xB1, 1, 0, 0x87, 0x0C}, 1, false))
	require.Equal(t, Vec{0x4000, 0}, m.gs.dual)
	require.Equal(t, Vec{0, 0x4000}, m.gs.proj, "along the line, though a right angle was asked for")
}

// A glyph that uses the twilight zone, storage or control values leaves them to the
// next one as prep left them, so that no bitmap depends on what was drawn before.
func TestAGlyphLeavesNoTraceForTheNext(t *testing.T) {
	m := sized(t, Program{Storage: 1, Twilight: 4, Stack: 16, CVT: []int16{64}}, 12)
	z := &Zone{}
	z.Resize(6)
	spoil := []byte{0xB0, 0, 0x16, 0xB1, 1, 0, 0x3E, 0xB1, 0, 7, 0x42, 0xB1, 0, 5, 0x44} // SZPS, MIAP, WS, WCVTP
	ask := []byte{0xB0, 0, 0x16, 0xB0, 1, 0x46, 0xB0, 0, 0x43, 0xB0, 0, 0x45}            // GC, RS, RCVT
	m.Begin()
	require.NoError(t, m.Run(z, append(append([]byte{}, spoil...), ask...), 1, false))
	require.Equal(t, []int32{64, 7, 5}, m.stack[:m.top], "the glyph itself sees them")
	m.Begin()
	require.NoError(t, m.Run(z, ask, 2, false))
	require.Equal(t, []int32{0, 0, 64}, m.stack[:m.top])
}

// prep may define functions of its own; other sizes know nothing of them.
func TestDefinitionsOfPrepStayWithTheirSize(t *testing.T) {
	// Function 0 pushes 1. Above 20 ppem prep makes it push 2.
	fpgm := []byte{0xB0, 0, 0x2C, 0xB0, 1, 0x2D}
	prep := []byte{0x4B, 0xB0, 20, 0x52, 0x58, 0xB0, 0, 0x2C, 0xB0, 2, 0x2D, 0x59}
	f, err := NewFont(Program{Fpgm: fpgm, Prep: prep, Stack: 16, Glyphs: 10, Functions: 1})
	require.NoError(t, err)
	answer := func(ppem int) int32 {
		m, err := f.NewMachine(Size{ScaleX: 1, ScaleY: 1, PPEMX: ppem, PPEMY: ppem})
		require.NoError(t, err)
		require.NoError(t, m.Run(&Zone{}, []byte{0xB0, 0, 0x2B}, 1, false))
		return m.stack[0]
	}
	require.Equal(t, int32(1), answer(10))
	require.Equal(t, int32(2), answer(30))
	require.Equal(t, int32(1), answer(10), "the font's own definition is as it was")
}

// OpenType, "INSTCTRL[]": selector 1 switches glyph programs off, selector 2 has them
// ignore what prep set. FreeType 2.12.1 means to, but takes prep's state up again
// before each glyph (ttgload.c, tt_loader_init and TT_Hint_Glyph).
func TestPrepCanSwitchGlyphProgramsOffOrItsOwnStateAway(t *testing.T) {
	for _, c := range []struct {
		reason      string
		selector    byte
		off         bool
		minDistance F26Dot6
	}{
		{"as prep left it", 0, false, 5},
		{"off", 1, true, 5},
		{"defaults", 2, false, 64},
	} {
		prep := []byte{0xB0, 5, 0x1A, 0xB1, c.selector, c.selector, 0x8E} // SMD, INSTCTRL
		m := sized(t, Program{Prep: prep, Stack: 16}, 12)
		require.Equal(t, c.off, m.Off(), c.reason)
		require.NoError(t, m.Run(&Zone{}, []byte{0x20}, 1, false))
		require.Equal(t, c.minDistance, m.gs.minDistance, c.reason)
	}
}

// FreeType, ttinterp.c, Compute_Funcs: it asks for a whole part and not for an empty one.
func TestAVectorWithAWholePartIsAnAxis(t *testing.T) {
	for v, want := range map[Vec]axis{
		{0x4000, 0}: alongX, {0x4000, 90}: alongX, {-90, 0x4000}: alongY, {0x3FFF, 0}: oblique, {-0x4000, 0}: oblique,
	} {
		require.Equal(t, want, v.axis(), "%v", v)
	}
}

func TestHypotIsFreeTypes(t *testing.T) {
	for _, c := range []struct{ x, y, want int32 }{
		{0, -7, 7}, {5, 0, 5}, {3 << 16, 4 << 16, 5 << 16}, {-3 << 16, 4 << 16, 5 << 16}, {-0x10000, -0x10000, 92682},
	} {
		require.Equal(t, c.want, Hypot(c.x, c.y), "%d, %d", c.x, c.y)
	}
}
