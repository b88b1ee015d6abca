package face

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
)

// square draws a square of a size at the pen's place.
const square = "0 hmoveto 10 hlineto 10 vlineto -10 hlineto endchar"

func TestCIDKeyedGlyphsDrawUnderTheirFontDicts(t *testing.T) {
	private := func(std, width float64) []psfont.Entry {
		return []psfont.Entry{{Key: "StdHW", Values: []float64{std}}, {Key: "defaultWidthX", Values: []float64{width}}}
	}
	f := parseCFF(t, &psfont.Font{
		Name: "Trial",
		FDs: []psfont.FD{
			{Private: private(40, 500), Subrs: []string{"10 hlineto return"}},
			{Private: private(80, 1000), Subrs: []string{"20 hlineto return"}, Matrix: "0.0005 0 0 0.0005 0 0"},
		},
		Glyphs: []psfont.Glyph{
			{Program: "endchar"},
			{Program: "0 hmoveto -107 callsubr 10 vlineto endchar"},
			{Program: "0 hmoveto -107 callsubr 10 vlineto endchar", FD: 1},
			{Program: square},
		},
	})
	require.Equal(t, 1000, f.UPEM())
	require.Equal(t, []int{0, 0, 10, 0, 10, 10}, at(drawn(t, f, 1)))
	require.Equal(t, []int{0, 0, 10, 0, 10, 5}, at(drawn(t, f, 2)), "the second dict's subroutine, at half the size")
	require.InDelta(t, 40, f.Private(1).StdHW, 0)
	require.InDelta(t, 40, f.Private(2).StdHW, 0, "80 at half the size")
	require.NotSame(t, f.Private(1), f.Private(2))
	require.Same(t, f.Private(1), f.Private(3))
	require.Equal(t, fixed.I(500), f.Advance(2))
	require.Equal(t, glyph.Key("cid00002"), f.Refs()[2].Key)
}

// A point goes through both matrices, the Font DICT's first (PLRM 4.3.3: x' = ax + cy + tx).
func TestMatricesOfBothDictsApplyOneAfterTheOther(t *testing.T) {
	through := func(m []float64, x, y float64) (float64, float64) {
		return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
	}
	a, b := []float64{2, 3, 5, 7, 11, 13}, []float64{17, 19, 23, 29, 31, 37}
	for _, p := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {-3, 4}} {
		x, y := through(a, p[0], p[1])
		x, y = through(b, x, y)
		atOnceX, atOnceY := through(concat(a, b), p[0], p[1])
		require.Equal(t, []float64{x, y}, []float64{atOnceX, atOnceY}, "point %v", p)
	}
	require.Equal(t, b, concat(nil, b), "none above")
	require.Equal(t, a, concat(a, nil), "none of its own")
}

// TN5177, appendix C: adx ady bchar achar endchar.
func TestEndcharMaySetAnAccentOverABase(t *testing.T) {
	f := parseCFF(t, &psfont.Font{
		Name: "Trial", Strings: map[string]uint16{"A": 34, "acute": 125},
		Glyphs: []psfont.Glyph{
			{Name: ".notdef", Program: "endchar"},
			{Name: "A", Program: "5 10 vstem " + square},
			{Name: "acute", Program: "0 10 vstem " + square},
			{Name: "Aacute", Program: "30 200 65 194 endchar"},
			{Name: "nested", Program: "0 0 65 200 endchar"},
		},
	})
	d := drawn(t, f, 3)
	require.Equal(t, []int{0, 0, 10, 0, 10, 10, 0, 10, 30, 200, 40, 200, 40, 210, 30, 210}, at(d))
	require.Equal(t, []Hint{stem(glyph.AxisX, 5, 15), stem(glyph.AxisX, 30, 40)}, d.Hints)
	require.Equal(t, []Span{{0, []int{0}}, {4, []int{1}}}, d.Spans)
	_, err := f.Drawing(4)
	require.ErrorContains(t, err, "does not have", "dieresis is missing")
}

// TN5176, appendix C: glyph counts 229, 166 and 87; first and last names.
func TestPredefinedCharsetsEndAsPublished(t *testing.T) {
	for which, c := range []struct {
		glyphs      int
		second, end string
	}{{229, "space", "zcaron"}, {166, "space", "Ydieresissmall"}, {87, "space", "periodinferior"}} {
		ids, err := readCharset(nil, which, c.glyphs, false)
		require.NoError(t, err)
		require.Equal(t, c.second, cffStrings[ids[1]])
		if which == 2 {
			require.Equal(t, "commainferior", cffStrings[ids[86]])
		} else {
			require.Equal(t, c.end, cffStrings[ids[c.glyphs-1]])
		}
		_, err = readCharset(nil, which, c.glyphs+1, false)
		require.ErrorIs(t, err, ErrInvalid, "it names no more")
	}
	require.Len(t, cffStrings, 391, "TN5176, appendix A")
	require.Equal(t, "Semibold", cffStrings[390])
}

func TestCharsetsAreReadInEveryFormat(t *testing.T) {
	pad := []byte{0, 0, 0}
	for _, c := range []struct {
		reason string
		b      []byte
		want   []uint16
	}{
		{"format 0 lists ids", []byte{0, 0, 5, 0, 9, 1, 0}, []uint16{0, 5, 9, 256}},
		{"format 1 has short runs", []byte{1, 0, 5, 1, 0, 9, 0}, []uint16{0, 5, 6, 9}},
		{"format 2 has long runs", []byte{2, 0, 5, 0, 200}, []uint16{0, 5, 6, 7}},
	} {
		got, err := readCharset(append(pad, c.b...), 3, 4, false)
		require.NoError(t, err, c.reason)
		require.Equal(t, c.want, got, c.reason)
		_, err = readCharset(append(pad, c.b[:4]...), 3, 400, false)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
	}
}

// TN5176, section 12: formats 0 and 1, and supplements by string id.
func TestEncodingsAreReadInBothFormats(t *testing.T) {
	charset := []uint16{0, 400, 401, 402} // names that tell no character
	for _, c := range []struct {
		reason string
		b      []byte
		want   map[int]int
	}{
		{"format 0 lists the codes of glyphs from 1 on", []byte{0, 3, 65, 70, 200}, map[int]int{65: 1, 70: 2, 200: 3}},
		{"format 1 has runs of codes", []byte{1, 2, 65, 1, 97, 0}, map[int]int{65: 1, 66: 2, 97: 3}},
		{"supplements put a glyph at another code as well", []byte{0x80, 1, 65, 1, 90, 1, 145}, map[int]int{65: 1, 90: 2}},
		{"codes of glyphs that are not there are passed over", []byte{1, 1, 65, 9}, map[int]int{65: 1, 66: 2, 67: 3}},
	} {
		pad := []byte{0, 0}
		got, err := readEncoding(append(pad, c.b...), 2, charset)
		require.NoError(t, err, c.reason)
		var want [256]int
		for code, i := range c.want {
			want[code] = i
		}
		require.Equal(t, want, got, c.reason)
		_, err = readEncoding(append(pad, c.b[:len(c.b)-1]...), 2, charset)
		require.ErrorContains(t, err, "cut short", c.reason)
	}
	_, err := readEncoding([]byte{0, 0, 2, 0}, 2, charset)
	require.ErrorContains(t, err, "format 2")
}

func TestABareCFFTakesCodesFromItsEncodingWhereNamesTellNone(t *testing.T) {
	font := psfont.Font{Name: "Larkmoor", Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: "endchar"}, {Name: "A", Program: "endchar"}, {Name: "bogie", Program: "endchar"},
	}, Encoding: map[int]string{88: "A", 90: "bogie"}}
	b, err := font.CFF()
	require.NoError(t, err)
	f, err := newCFF(b, nil)
	require.NoError(t, err)
	require.Equal(t, 'A', f.Refs()[1].Code, "its name tells it")
	require.Equal(t, rune(90), f.Refs()[2].Code)
}

// TN5177, section 4.7.
func TestSubroutinesCountFromABiasThatGrowsWithThem(t *testing.T) {
	require.Equal(t, []int{107, 107, 1131, 1131, 32768}, []int{subrBias(0), subrBias(1239), subrBias(1240), subrBias(33899), subrBias(33900)})
}

func TestFontDictsAreSelectedByRunsAndByBytes(t *testing.T) {
	runs, err := readFDSelect([]byte{0, 3, 0, 2, 0, 0, 7, 0, 3, 9, 0, 5}, 1, 5)
	require.NoError(t, err)
	require.Equal(t, []int{7, 7, 7, 9, 9, -1}, []int{runs.dict(0), runs.dict(1), runs.dict(2), runs.dict(3), runs.dict(4), runs.dict(5)})
	bytes, err := readFDSelect([]byte{9, 0, 4, 5, 6}, 1, 3)
	require.NoError(t, err)
	require.Equal(t, 6, bytes.dict(2))
	_, err = readFDSelect([]byte{9, 0, 4, 5, 6}, 1, 4)
	require.ErrorIs(t, err, ErrInvalid, "a byte for each glyph")
}

func TestDeclaredZonesTakeTheirNamesFromLettersAndLooseRowsStandBesideThem(t *testing.T) {
	bar := func(low, high string) string {
		return "0 " + low + " rmoveto 100 hlineto " + high + " vlineto -100 hlineto endchar"
	}
	f := parseCFF(t, &psfont.Font{
		Name:    "Trial",
		Private: []psfont.Entry{{Key: "BlueValues", Values: []float64{-12, 0, 490, 502, 700, 712, 760, 772}}, {Key: "OtherBlues", Values: []float64{-212, -200}}},
		Glyphs: []psfont.Glyph{
			{Name: ".notdef", Program: "endchar"}, {Name: "H", Program: bar("0", "700")}, {Name: "x", Program: bar("0", "490")},
			{Name: "o", Program: bar("-12", "514")}, {Name: "p", Program: bar("-200", "690")}, {Name: "l", Program: bar("0", "740")},
		},
	})
	d, err := f.Design(1)
	require.NoError(t, err)
	require.Equal(t, []glyph.Zone{
		{Name: "baseline", Flat: 0, Over: -12}, {Name: "x-height", Flat: 490, Over: 502, Top: true},
		{Name: "cap-height", Flat: 700, Over: 712, Top: true}, {Flat: 760, Over: 772, Top: true},
		{Name: "descender", Flat: -200, Over: -212}, {Name: "ascender", Flat: 740, Over: 740, Top: true},
	}, d.Zones, "no zone holds the ascender")
}

func TestADesignCarriesItsStems(t *testing.T) {
	d, err := type2Face(t, "0 62 hstem 500 -20 vstem "+square).Design(1)
	require.NoError(t, err)
	require.Equal(t, []glyph.Stem{{Axis: glyph.AxisY, Hi: 62}, {Axis: glyph.AxisX, Lo: 500, Hi: 500, Ghost: true}}, d.Stems)
	require.Equal(t, glyph.FUnit(500), d.Advance)
	require.Equal(t, 1000, d.UPEM)
}
