package face

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
)

// The four subroutines that every Type 1 font begins with, and that hint
// replacement is called through (Type 1 book, chapter 8).
var firstSubrs = []string{
	"3 0 callothersubr pop pop setcurrentpoint return",
	"0 1 callothersubr return",
	"0 2 callothersubr return",
	"return",
	"1 3 callothersubr pop callsubr return",
}

func TestEveryWrappingOfType1ReadsAlike(t *testing.T) {
	for _, lead := range []int{-1, 0, 1, 2, 3, 4} {
		f := &psfont.Font{Name: "Trial", LenIV: lead, Subrs: firstSubrs, Glyphs: []psfont.Glyph{
			{Name: "A", Program: "50 600 hsbw 0 62 hstem 0 hmoveto 92 hlineto 700 vlineto -92 hlineto closepath endchar"},
			{Name: ".notdef", Program: "0 500 hsbw endchar"},
		}}
		binary, err := f.PFB()
		require.NoError(t, err)
		text, err := f.PFA()
		require.NoError(t, err)
		for _, data := range [][]byte{binary, text} {
			face, err := Parse(data, 0)
			require.NoError(t, err, "lenIV %d", lead)
			require.Equal(t, "Type 1", face.Format())
			require.Equal(t, []glyph.Ref{
				{Key: ".notdef", Name: ".notdef", Code: glyph.NoCode, Index: 0},
				{Key: "A", Name: "A", Code: 'A', Index: 1},
			}, face.Refs(), ".notdef goes first, lenIV %d", lead)
			d := drawn(t, face.(PostScript), 1)
			require.Equal(t, []int{50, 0, 142, 0, 142, 700, 50, 700}, at(d), "lenIV %d", lead)
			require.Equal(t, fixed.I(600), face.Advance(1))
		}
	}
}

func TestThePrivateDictionaryIsRead(t *testing.T) {
	entries := []psfont.Entry{
		{Key: "BlueValues", Values: []float64{-12, 0, 490, 502}}, {Key: "OtherBlues", Values: []float64{-212, -200}},
		{Key: "FamilyBlues", Values: []float64{-10, 0}}, {Key: "StdHW", Values: []float64{62}}, {Key: "StdVW", Values: []float64{92}},
		{Key: "StemSnapV", Values: []float64{92, 104}}, {Key: "BlueScale", Values: []float64{0.04379}},
		{Key: "ForceBold", Values: []float64{1}}, {Key: "LanguageGroup", Values: []float64{1}},
	}
	want := Private{
		BlueValues: []float64{-12, 0, 490, 502}, OtherBlues: []float64{-212, -200}, FamilyBlues: []float64{-10, 0},
		BlueScale: 0.04379, BlueShift: 7, BlueFuzz: 1, StdHW: 62, StdVW: 92, StemSnapV: []float64{92, 104},
		ForceBold: true, LanguageGroup: 1, ExpansionFactor: 0.06,
	}
	f := &psfont.Font{Name: "Trial", Private: entries, Glyphs: []psfont.Glyph{{Name: ".notdef", Program: "0 500 hsbw endchar"}}}
	require.Equal(t, want, *parseType1(t, f).Private(0), "Type 1")
	f.Glyphs[0].Program = "endchar"
	require.Equal(t, want, *parseCFF(t, f).Private(0), "CFF")
}

func TestStemsCountFromTheSidebearingPoint(t *testing.T) {
	d := drawn(t, type1Face(t, "50 20 600 0 sbw 0 62 hstem 10 92 vstem 0 hmoveto 9 hlineto 9 vlineto closepath endchar"), 1)
	require.Equal(t, []Hint{stem(glyph.AxisY, 20, 82), stem(glyph.AxisX, 60, 152)}, d.Hints)
	require.Equal(t, []int{50, 20, 59, 20, 59, 29}, at(d))
}

func TestHintReplacementBeginsASpan(t *testing.T) {
	subrs := append(append([]string{}, firstSubrs...), "30 10 hstem 0 9 vstem return", "0 10 hstem return")
	d := drawn(t, type1Face(t, "0 600 hsbw 0 10 hstem 0 9 vstem 0 hmoveto 9 hlineto 5 4 callsubr 9 vlineto closepath 40 vmoveto 6 4 callsubr 9 hlineto 9 vlineto closepath endchar", subrs...), 1)
	require.Equal(t, []Hint{stem(glyph.AxisY, 0, 10), stem(glyph.AxisX, 0, 9), stem(glyph.AxisY, 30, 40)}, d.Hints, "a stem declared again is the same one")
	require.Equal(t, []Span{{0, []int{0, 1}}, {2, []int{2, 1}}, {4, []int{0}}}, d.Spans)
}

func TestType1FlexIsTwoCurves(t *testing.T) {
	// The first move goes to the reference point, which is no point of the outline.
	d := drawn(t, type1Face(t, "0 600 hsbw 0 hmoveto 100 vlineto 1 callsubr "+
		"50 4 rmoveto 2 callsubr -30 -4 rmoveto 2 callsubr 10 4 rmoveto 2 callsubr 20 hmoveto 2 callsubr 20 hmoveto 2 callsubr "+
		"10 -4 rmoveto 2 callsubr 20 hmoveto 2 callsubr 50 100 100 0 callsubr -100 vlineto closepath endchar", firstSubrs...), 1)
	require.Equal(t, []int{0, 0, 0, 100, 20, 100, 30, 104, 50, 104, 70, 104, 80, 100, 100, 100, 100, 0}, at(d))
	require.Equal(t, []Flex{{First: 2, Axis: glyph.AxisY, Depth: fixed.I(50)}}, d.Flexes)
	require.Equal(t, []int{8}, d.Outline.Ends)
}

func TestThreeStemsAreACounterGroup(t *testing.T) {
	d := drawn(t, type1Face(t, "0 600 hsbw 638 62 319 62 0 62 hstem3 100 92 200 92 300 92 vstem3 endchar"), 1)
	require.Equal(t, [][]int{{2, 1, 0}, {3, 4, 5}}, d.Counters)
}

// TN5015, section 2.2: the count of groups across, those groups, then the
// upright ones; the last stem of a group counts from its far edge, so its width
// is negative. 12 puts operands aside, 13 reads all, its own first.
func TestCounterControlGroupsStems(t *testing.T) {
	d := drawn(t, type1Face(t, "20 600 hsbw 30 20 30 -10 4 12 callothersubr 0 1 10 20 4 13 callothersubr 10 20 vstem endchar"), 1)
	require.Equal(t, []Hint{stem(glyph.AxisX, 30, 50), stem(glyph.AxisX, 80, 100), stem(glyph.AxisX, 120, 130)}, d.Hints)
	require.Equal(t, [][]int{{0, 1, 2}}, d.Counters)
	require.Equal(t, []Span{{0, []int{0}}}, d.Spans, "a stem is in force where it is declared, not where its counters are")
}

// Type 1 book 6.4; FreeType t1decode.c: the accent's origin is at sb - asb + adx.
func TestSeacSetsAnAccentOverABase(t *testing.T) {
	f := parseType1(t, &psfont.Font{Name: "Trial", LenIV: 4, Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: "0 500 hsbw endchar"},
		{Name: "A", Program: "40 700 hsbw 0 10 vstem 0 hmoveto 10 hlineto 10 vlineto closepath endchar"},
		{Name: "acute", Program: "30 300 hsbw 0 20 vstem 0 hmoveto 20 hlineto 20 vlineto closepath endchar"},
		{Name: "Aacute", Program: "45 710 hsbw 30 200 150 65 194 seac"},
		{Name: "nested", Program: "0 710 hsbw 0 0 0 65 200 seac"},
		{Name: "dieresis", Program: "0 300 hsbw 0 0 0 65 194 seac"},
	}})
	d := drawn(t, f, 3)
	require.Equal(t, fixed.I(710), d.Advance, "the composite's own")
	require.Equal(t, []int{40, 0, 50, 0, 50, 10, 45 + 200, 150, 45 + 220, 150, 45 + 220, 170}, at(d))
	require.Equal(t, []Hint{stem(glyph.AxisX, 40, 50), stem(glyph.AxisX, 245, 265)}, d.Hints)
	require.Equal(t, []Span{{0, []int{0}}, {3, []int{1}}}, d.Spans, "each part under its own hints")
	_, err := f.Drawing(4)
	require.ErrorContains(t, err, "itself a composite")
}

func TestOldAndUnknownOperatorsDoNoHarm(t *testing.T) {
	for _, c := range []struct{ reason, program string }{
		{"dotsection, which earlier interpreters needed", "0 500 hsbw 5 6 rmoveto dotsection 10 hlineto dotsection 10 vlineto closepath endchar"},
		{"operands of an unknown OtherSubrs come back as they went (FreeType t1decode.c)", "0 500 hsbw 5 6 2 99 callothersubr pop pop rmoveto 10 hlineto 10 vlineto closepath endchar"},
	} {
		d := drawn(t, type1Face(t, c.program), 1)
		require.Equal(t, []int{5, 6, 15, 6, 15, 16}, at(d), c.reason)
	}
}

// Type 1 book 2.2; numbers with a radix, PLRM 3.2.2.
func TestEncodingsComeAsPairsOrAsAnArray(t *testing.T) {
	blank := "0 500 hsbw endchar"
	f := &psfont.Font{Name: "Trial", Encoding: map[int]string{1: "odd"}, Glyphs: []psfont.Glyph{{Name: ".notdef", Program: blank}, {Name: "odd", Program: blank}}}
	data, err := f.PFA()
	require.NoError(t, err)
	encoding := regexp.MustCompile(`(?s)/Encoding .*? def\n`)
	require.Regexp(t, encoding, string(data))
	for _, c := range []struct {
		text string
		want rune
	}{
		{"/Encoding 256 array dup 33 /odd put readonly def", '!'},
		{"/Encoding 256 array 0 1 255 {1 index exch /.notdef put} for dup 8#101 /odd put readonly def", 'A'},
		{"/Encoding 16#100 array dup 16#7e /odd put dup 300 /odd put readonly def", '~'},
		{"/Encoding [" + strings.Repeat("/.notdef ", 35) + "/odd /.notdef] def", '#'},
		{"/Encoding [" + strings.Repeat("/.notdef ", 256) + "/odd] def", glyph.NoCode},
		{"/Encoding 37#1 array dup 33 /odd put readonly def", glyph.NoCode},
		{"/Encoding StandardEncoding def", glyph.NoCode},
	} {
		parsed, err := Parse(encoding.ReplaceAllLiteral(data, []byte(c.text+"\n")), 0)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, parsed.Refs()[1].Code, c.text)
	}
}

func TestDivMakesFractions(t *testing.T) {
	d := drawn(t, type1Face(t, "0 1667 5 div hsbw 7 2 div hmoveto 300000 100000 div 9 rlineto 9 vlineto closepath endchar"), 1)
	require.Equal(t, fixed.Int26_6(333*64+26), d.Advance, "333.4 in 64ths")
	require.Equal(t, fixed.Int26_6(3*64+32), d.Outline.Points[0].X)
	require.Equal(t, fixed.Int26_6(6*64+32), d.Outline.Points[1].X)
}

func TestFontMatrixSetsTheEmAndTheSlant(t *testing.T) {
	program := "100 600 hsbw 0 62 hstem 0 92 vstem 0 hmoveto 92 hlineto 700 vlineto closepath endchar"
	for _, c := range []struct {
		reason, matrix string
		upem           int
		top            int // x of the point at the top
		advance        int
		axes           []glyph.Axis // of the hints in force
	}{
		{"the usual one", "0.001 0 0 0.001 0 0", 1000, 192, 600, []glyph.Axis{glyph.AxisY, glyph.AxisX}},
		{"2048 units, as rounded in font files", "0.000488281 0 0 0.000488281 0 0", 2048, 192, 600, []glyph.Axis{glyph.AxisY, glyph.AxisX}},
		{"slanted: upright stems have no upright edge any more", "0.001 0 0.0002 0.001 0 0", 1000, 192 + 140, 600, []glyph.Axis{glyph.AxisY}},
		{"condensed", "0.0005 0 0 0.001 0 0", 1000, 96, 300, []glyph.Axis{glyph.AxisY, glyph.AxisX}},
	} {
		f := &psfont.Font{Name: "Trial", Matrix: c.matrix, Glyphs: []psfont.Glyph{{Name: ".notdef", Program: program}}}
		face := parseType1(t, f)
		require.Equal(t, c.upem, face.UPEM(), c.reason)
		d := drawn(t, face, 0)
		require.Equal(t, c.top, d.Outline.Points[2].X.Round(), c.reason)
		require.Equal(t, c.advance, d.Advance.Round(), c.reason)
		var axes []glyph.Axis
		for _, i := range d.Spans[0].Hints {
			axes = append(axes, d.Hints[i].Axis)
		}
		require.Equal(t, c.axes, axes, c.reason)
	}
}

func TestNamesThenEncodingTellCodePoints(t *testing.T) {
	blank := "0 500 hsbw endchar"
	f := parseType1(t, &psfont.Font{Name: "Trial", Encoding: map[int]string{33: "odd", 65: "other"}, Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: blank}, {Name: "A", Program: blank}, {Name: "uni20AC", Program: blank},
		{Name: "u1F600", Program: blank}, {Name: "odd", Program: blank}, {Name: "other", Program: blank},
		{Name: "a.alt", Program: blank}, {Name: "afii10017", Program: blank}, {Name: "Delta", Program: blank},
	}})
	want := map[string]rune{"A": 'A', "uni20AC": '€', "u1F600": 0x1F600, "odd": '!', "other": glyph.NoCode, "a.alt": glyph.NoCode, "afii10017": 'А', "Delta": '∆'}
	for _, r := range f.Refs()[1:] {
		require.Equal(t, want[r.Name], r.Code, r.Name)
	}
}
