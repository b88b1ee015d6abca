package face

import (
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
)

func unhex(t *testing.T, s string) []byte {
	b, err := hex.DecodeString(s)
	require.NoError(t, err)
	return b
}

// Computed from the rule c = p xor (r>>8), r = (c + r)·52845 + 22719 mod 65536,
// with r = 55665 for eexec and 4330 for charstrings (Type 1 book, chapter 7).
func TestDecryptingGivesTheKnownVectors(t *testing.T) {
	require.Equal(t, make([]byte, 4), decrypt(unhex(t, "d9d66f63"), eexecKey))
	require.Equal(t, make([]byte, 4), decrypt(unhex(t, "10bf3170"), charstringKey))
	require.Equal(t, blankNotdef, plainCharstring(unhex(t, "10bf317079c82f0680"), 4), "0 500 hsbw endchar behind 4 zeros")
}

// Computed from TN5177, table 1, and the Type 1 book, section 6.2.
func TestCharstringsReadTheirNumbers(t *testing.T) {
	for _, c := range []struct {
		bytes  string
		type2  bool
		want   int
		reason string
	}{
		{"8b", true, 0, "one byte holds -107 to 107"},
		{"f6", true, 107, "the highest of one byte"},
		{"20", true, -107, "the lowest of one byte"},
		{"f700", true, 108, "the first above"},
		{"faff", true, 1131, "the highest of two bytes"},
		{"fb00", true, -108, "the first below"},
		{"feff", true, -1131, "the lowest of two bytes"},
		{"f888", true, 500, "as in hsbw of the vector"},
		{"ff0000046c", false, 1132, "Type 1: 255 leads a whole number of 32 bits"},
		{"ff046c0000", true, 1132, "Type 2: 255 leads a 16.16 number"},
		{"1c046c", true, 1132, "Type 2: 28 leads 16 bits"},
	} {
		m := &machine{type2: c.type2}
		code := unhex(t, c.bytes)
		require.Equal(t, len(code), m.number(code, 0), c.reason)
		require.Equal(t, []fix{fix(c.want) << 16}, m.stack, c.reason)
	}
}

// Computed from TN5176, tables 3 and 5; the note prints the same whole numbers
// (from memory), and the two real ones (from memory).
func TestDictsReadTheirNumbers(t *testing.T) {
	for _, c := range []struct {
		bytes string
		want  float64
	}{
		{"ef", 100}, {"27", -100}, {"fa7c", 1000}, {"fe7c", -1000}, {"1c2710", 10000}, {"1cd8f0", -10000},
		{"1d000186a0", 100000}, {"1dfffe7960", -100000}, {"1ee2a25f", -2.25}, {"1e0a140541c3ff", 0.140541e-3},
	} {
		b := unhex(t, c.bytes)
		v, end, ok := dictNumber(b, 0)
		require.True(t, ok, c.bytes)
		require.Equal(t, len(b), end, c.bytes)
		require.InDelta(t, c.want, v, 1e-12, c.bytes)
	}
}

// type1Face and type2Face make a face whose glyph 1 is the charstring given.
func type1Face(t *testing.T, program string, subrs ...string) *Type1 {
	f := &psfont.Font{Name: "Trial", LenIV: 4, Subrs: subrs, Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: "0 500 hsbw endchar"},
		{Name: "trial", Program: program},
	}}
	return parseType1(t, f)
}

func parseType1(t *testing.T, f *psfont.Font) *Type1 {
	data, err := f.PFB()
	require.NoError(t, err)
	face, err := Parse(data, 0)
	require.NoError(t, err)
	return face.(*Type1)
}

func type2Face(t *testing.T, program string, subrs ...string) *CFF {
	return parseCFF(t, &psfont.Font{
		Name: "Trial", Subrs: subrs, Globals: []string{"10 10 rlineto return"},
		Private: []psfont.Entry{{Key: "defaultWidthX", Values: []float64{500}}, {Key: "nominalWidthX", Values: []float64{600}}},
		Glyphs:  []psfont.Glyph{{Name: ".notdef", Program: "endchar"}, {Name: "trial", Program: program}},
	})
}

func parseCFF(t *testing.T, f *psfont.Font) *CFF {
	data, err := f.CFF()
	require.NoError(t, err)
	face, err := Parse(data, 0)
	require.NoError(t, err)
	return face.(*CFF)
}

func drawn(t *testing.T, f PostScript, index int) *Drawing {
	d, err := f.Drawing(index)
	require.NoError(t, err)
	return d
}

// at lists a drawing's points in whole units: x, y, x, y ...
func at(d *Drawing) []int {
	var all []int
	for _, p := range d.Outline.Points {
		all = append(all, p.X.Round(), p.Y.Round())
	}
	return all
}

// Each operator of Type 2 and the same steps in the two plainest ones.
func TestEveryPathOperatorDrawsWhatItStandsFor(t *testing.T) {
	const from = "100 100 rmoveto "
	for _, c := range []struct{ short, long string }{
		{"10 20 30 hlineto", "10 0 rlineto 0 20 rlineto 30 0 rlineto"},
		{"10 20 30 vlineto", "0 10 rlineto 20 0 rlineto 0 30 rlineto"},
		{"10 20 30 40 rlineto", "10 20 rlineto 30 40 rlineto"},
		{"1 2 3 4 5 6 7 8 9 10 11 12 rrcurveto", "1 2 3 4 5 6 rrcurveto 7 8 9 10 11 12 rrcurveto"},
		{"1 2 3 4 hhcurveto", "1 0 2 3 4 0 rrcurveto"},
		{"9 1 2 3 4 5 6 7 8 hhcurveto", "1 9 2 3 4 0 rrcurveto 5 0 6 7 8 0 rrcurveto"},
		{"1 2 3 4 vvcurveto", "0 1 2 3 0 4 rrcurveto"},
		{"9 1 2 3 4 5 6 7 8 vvcurveto", "9 1 2 3 0 4 rrcurveto 0 5 6 7 0 8 rrcurveto"},
		{"1 2 3 4 hvcurveto", "1 0 2 3 0 4 rrcurveto"},
		{"1 2 3 4 5 hvcurveto", "1 0 2 3 5 4 rrcurveto"},
		{"1 2 3 4 5 6 7 8 9 hvcurveto", "1 0 2 3 0 4 rrcurveto 0 5 6 7 8 9 rrcurveto"},
		{"1 2 3 4 vhcurveto", "0 1 2 3 4 0 rrcurveto"},
		{"1 2 3 4 5 6 7 8 9 vhcurveto", "0 1 2 3 4 0 rrcurveto 5 0 6 7 9 8 rrcurveto"},
		{"1 2 3 4 5 6 7 8 rcurveline", "1 2 3 4 5 6 rrcurveto 7 8 rlineto"},
		{"1 2 3 4 5 6 7 8 rlinecurve", "1 2 rlineto 3 4 5 6 7 8 rrcurveto"},
		{"1 2 3 4 5 6 7 hflex", "1 0 2 3 4 0 rrcurveto 5 0 6 -3 7 0 rrcurveto"},
		{"1 2 3 4 5 6 7 8 9 10 11 12 50 flex", "1 2 3 4 5 6 rrcurveto 7 8 9 10 11 12 rrcurveto"},
		{"1 2 3 4 5 6 7 8 9 hflex1", "1 2 3 4 5 0 rrcurveto 6 0 7 8 9 -14 rrcurveto"},
		{"10 1 10 2 10 3 10 4 10 5 6 flex1", "10 1 10 2 10 3 rrcurveto 10 4 10 5 6 -15 rrcurveto"},
		{"1 10 2 10 3 10 4 10 5 10 6 flex1", "1 10 2 10 3 10 rrcurveto 4 10 5 10 -15 6 rrcurveto"},
		{"-107 callgsubr", "10 10 rlineto"},
		{"-107 callsubr", "20 10 rlineto"},
		{"3 4 add 2 sub 5 rlineto", "5 5 rlineto"},
		{"3 4 mul 2 div 5 rlineto", "6 5 rlineto"},
		{"-6 abs 5 neg rlineto", "6 -5 rlineto"},
		{"144 sqrt 7 0 put 0 get rlineto", "12 7 rlineto"},
		{"7 8 exch dup drop rlineto", "8 7 rlineto"},
		{"1 2 3 1 index 4 1 roll drop drop rlineto", "2 1 rlineto"},
		{"11 12 1 2 ifelse 5 5 eq rlineto", "11 1 rlineto"},
		{"0 0 or 0 7 or rlineto 7 0 or 7 7 or rlineto", "0 1 rlineto 1 1 rlineto"},
		{"0 0 and 0 7 and rlineto 7 0 and 7 7 and rlineto", "0 0 rlineto 0 1 rlineto"},
		{"0 not 1 0 or 1 and rlineto", "1 1 rlineto"},
		{"11 12 2 1 ifelse 13 14 1 1 ifelse rlineto", "12 13 rlineto"},
		{"7 8 0 1 roll rlineto", "7 8 rlineto"},
		{"-9 3 div 9 -3 div rlineto -9 -3 div 1 -4 div rlineto", "-3 -3 rlineto 3 -0.25 rlineto"},
		{"random 0 eq random random eq 5 add rlineto", "0 5 rlineto"},
		{"0x0C00 3 4 rlineto", "3 4 rlineto"}, // dotsection
	} {
		short := drawn(t, type2Face(t, from+c.short+" 1 1 rlineto endchar", "20 10 rlineto return"), 1)
		long := drawn(t, type2Face(t, from+c.long+" 1 1 rlineto endchar"), 1)
		require.Equal(t, long.Outline, short.Outline, c.short)
	}
}

func TestTheFirstOperatorMayCarryTheWidth(t *testing.T) {
	for _, c := range []struct {
		program string
		want    int
		reason  string
	}{
		{"endchar", 500, "none given: defaultWidthX"},
		{"20 endchar", 620, "over nominalWidthX"},
		{"20 10 hmoveto endchar", 620, "hmoveto takes one"},
		{"20 10 10 rmoveto endchar", 620, "rmoveto takes two"},
		{"20 0 62 hstem 10 hmoveto endchar", 620, "stems come in pairs"},
		{"20 0 62 hstemhm 0 92 hintmask 0xC0 10 hmoveto endchar", 620, "the operator before counts"},
		{"-30.5 0 92 hintmask 0x80 10 hmoveto endchar", 570, "569.5 units, rounded"},
		{"10 hmoveto 20 hmoveto endchar", 500, "no width, then a second move"},
	} {
		f := type2Face(t, c.program)
		require.Equal(t, c.want, f.Advance(1).Round(), c.reason)
	}
}

func TestContoursCloseWithoutRepeatingAPoint(t *testing.T) {
	for _, c := range []struct {
		reason, program string
		want            []int
		ends            []int
	}{
		{"a line back to the start is implied", "0 0 rmoveto 10 hlineto 10 vlineto -10 -10 rlineto endchar", []int{0, 0, 10, 0, 10, 10}, []int{2}},
		{"a contour left open is closed", "0 0 rmoveto 10 hlineto 10 vlineto endchar", []int{0, 0, 10, 0, 10, 10}, []int{2}},
		{"a curve back to the start ends in its controls", "0 0 rmoveto 10 0 -5 10 -5 -10 rrcurveto endchar", []int{0, 0, 10, 0, 5, 10}, []int{2}},
		{"a line of no length is none", "0 0 rmoveto 10 hlineto 0 0 rlineto 10 vlineto endchar", []int{0, 0, 10, 0, 10, 10}, []int{2}},
		{"a move alone is no contour", "50 50 rmoveto 1 1 rmoveto endchar", nil, nil},
	} {
		d := drawn(t, type2Face(t, c.program), 1)
		require.Equal(t, c.want, at(d), c.reason)
		require.Equal(t, c.ends, d.Outline.Ends, c.reason)
	}
}

func stem(axis glyph.Axis, lo, hi int) Hint {
	return Hint{Axis: axis, Lo: fixed.I(lo), Hi: fixed.I(hi)}
}

func TestMasksPutHintsInForce(t *testing.T) {
	// Nine hints make masks of two bytes (ceil of stems/8: TN5177, section 4.3).
	d := drawn(t, type2Face(t, "0 10 20 10 20 10 hstemhm 0 5 5 5 5 5 5 5 5 5 5 5 hintmask 0xA080 "+
		"0 0 rmoveto 10 hlineto 10 vlineto hintmask 0x4000 -5 5 rlineto 40 40 rmoveto hintmask 0x0080 5 hlineto 5 vlineto endchar"), 1)
	require.Len(t, d.Hints, 9)
	require.Equal(t, stem(glyph.AxisY, 30, 40), d.Hints[1])
	require.Equal(t, stem(glyph.AxisX, 10, 15), d.Hints[4])
	require.Equal(t, []Span{{0, []int{0, 2, 8}}, {3, []int{1}}, {5, []int{8}}}, d.Spans, "a point that is only moved to was placed under the mask before")
}

func TestHintsWithoutMasksAreAllInForce(t *testing.T) {
	d := drawn(t, type2Face(t, "0 10 hstem 20 30 vstem 0 0 rmoveto 10 hlineto 10 vlineto endchar"), 1)
	require.Equal(t, []Span{{0, []int{0, 1}}}, d.Spans)
}

func TestCounterMasksGroupStemsByAxis(t *testing.T) {
	d := drawn(t, type2Face(t, "0 10 20 10 hstemhm 200 10 -110 10 100 10 cntrmask 0xF8 hintmask 0x80 0 0 rmoveto 10 hlineto 10 vlineto endchar"), 1)
	require.Equal(t, [][]int{{0, 1}, {3, 2, 4}}, d.Counters, "sorted by position: 100, 200, 210")
}

// FreeType, cf2_hint_init: width -21 a bottom edge at the far end, -20 a top
// edge at the near one; TN5177 calls them edge hints.
func TestGhostHintsHaveOneEdge(t *testing.T) {
	d := drawn(t, type2Face(t, "21 -21 500 -20 -50 -30 hstem 0 0 rmoveto 10 hlineto 10 vlineto endchar"), 1)
	require.Equal(t, []Hint{
		{glyph.AxisY, 0, 0, GhostBottom},
		{glyph.AxisY, fixed.I(500), fixed.I(500), GhostTop},
		stem(glyph.AxisY, 400, 430),
	}, d.Hints, "another negative width is a stem from its other end")
}

func TestFlexIsMarkedWithItsDepth(t *testing.T) {
	d := drawn(t, type2Face(t, "0 0 rmoveto 0 100 rlineto 10 2 10 2 10 0 10 0 10 -2 10 -2 40 flex -20 -50 rlineto endchar"), 1)
	require.Equal(t, []Flex{{First: 2, Axis: glyph.AxisY, Depth: fixed.I(40)}}, d.Flexes)
	d = drawn(t, type2Face(t, "0 0 rmoveto 100 0 rlineto 2 10 2 10 0 10 0 10 -2 10 0 flex1 -50 -20 rlineto endchar"), 1)
	require.Equal(t, []Flex{{First: 2, Axis: glyph.AxisX, Depth: fixed.I(50)}}, d.Flexes, "its height lies across an upright line")
}

func TestAFlexThatEndsItsContourEndsInItsFirstPoint(t *testing.T) {
	d := drawn(t, type2Face(t, "0 0 rmoveto 9 hlineto 9 vlineto 20 100 rmoveto 0 -50 rlineto 60 50 rlineto -10 2 -10 2 -10 0 -10 0 -10 -2 -10 -2 50 flex endchar"), 1)
	require.Len(t, d.Outline.Points, 11)
	at, ok := d.FlexPoints(d.Flexes[0])
	require.True(t, ok)
	require.Equal(t, [7]int{5, 6, 7, 8, 9, 10, 3}, at)
	_, ok = d.FlexPoints(Flex{First: 3})
	require.False(t, ok, "it would begin before its contour")
	_, ok = d.FlexPoints(Flex{First: 40})
	require.False(t, ok)
}
