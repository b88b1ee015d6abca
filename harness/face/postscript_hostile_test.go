package face

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/fixtures/psfont"
)

// A glyph that is damaged is an error that names it and the byte; every other
// glyph still draws.
func TestABrokenCharstringCostsItsGlyphAlone(t *testing.T) {
	deep := make([]string, 12)
	for i := range deep {
		deep[i] = fmt.Sprintf("%d callsubr return", i+1-107)
	}
	many := strings.Repeat("1 ", 49)
	for _, c := range []struct {
		reason, program string
		subrs           []string
		want            string
	}{
		{"an operand too few", "0 hmoveto 5 rlineto endchar", nil, `glyph 1 ("trial"): byte 3 of the charstring: 1 operands too many or too few`},
		{"an unknown operator", "0x02 endchar", nil, "byte 0 of the charstring: operator 2 is unknown"},
		{"an unknown two-byte operator", "0x0c63 endchar", nil, "byte 0 of the charstring: operator 12 99 is unknown"},
		{"a number cut short", "0 hmoveto 0x1c01", nil, "byte 2 of the charstring: the charstring ends in the middle of a number"},
		{"an operator cut short", "0x0c", nil, "byte 0 of the charstring: the charstring ends in the middle of an operator"},
		{"a mask cut short", "0 1 1 1 hstemhm hintmask", nil, "middle of a mask of 1 bytes"},
		{"more operands than 48", many + "rlineto endchar", nil, "byte 48 of the charstring: more than 48 operands"},
		{"more stems than 96", strings.Repeat(strings.Repeat("1 ", 48)+"hstem ", 5) + "endchar", nil, "more than 96 stems"},
		{"a subroutine that is not there", "5 callsubr endchar", nil, "byte 1 of the charstring: local subroutine 112: there is none of this number"},
		{"a subroutine that calls itself", "-107 callsubr endchar", []string{"-107 callsubr return"}, "byte 1 of the charstring, then byte 1 of the local subroutine 0: subroutines nest deeper than 10"},
		{"subroutines eleven deep", "-107 callsubr endchar", deep, "subroutines nest deeper than 10"},
		{"subroutines that call each other ten deep, ten times each", "-107 callsubr endchar", fanOut(), "more than 131072 steps"},
		{"a fault inside a subroutine", "0 hmoveto -107 callsubr endchar", []string{"1 hlineto 2 3 4 rlineto return"}, "byte 3 of the charstring, then byte 5 of the local subroutine 0"},
		{"a pen that runs away", "0 hmoveto " + strings.Repeat("32767 hlineto 0 1 rlineto ", 33) + "endchar", nil, "leaves the em"},
		{"a division by zero", "1 0 div endchar", nil, "a division by zero"},
		{"the root of a negative number", "-1 sqrt endchar", nil, "square root"},
		{"a store that has 32 places", "1 32 put endchar", nil, "place 32 of the store"},
		{"a roll of more than there is", "1 5 1 roll endchar", nil, "roll of 5 operands"},
		{"a product beyond the range", "32000 32000 mul endchar", nil, "a result beyond 32767"},
	} {
		f := type2Face(t, c.program, c.subrs...)
		started := time.Now()
		_, err := f.Drawing(1)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
		require.ErrorContains(t, err, c.want, c.reason)
		require.NotContains(t, err.Error(), "\n", c.reason)
		require.Less(t, time.Since(started), 5*time.Second, c.reason)
		_, err = f.Drawing(0)
		require.NoError(t, err, c.reason)
	}
}

// fanOut makes subroutines that each call the next ten times: 10^9 calls.
func fanOut() []string {
	var all []string
	for i := range 9 {
		all = append(all, strings.Repeat(fmt.Sprintf("%d callsubr ", i+1-107), 10)+"return")
	}
	return append(all, "return")
}

func TestABrokenType1CharstringCostsItsGlyphAlone(t *testing.T) {
	for _, c := range []struct{ reason, program, want string }{
		{"no hsbw in front", "0 hmoveto endchar", `glyph 1 ("trial"): byte 1 of the charstring: a step before hsbw`},
		{"nothing at all", "", "sets no width"},
		{"a number cut short", "0 500 hsbw 0xff0000", "byte 4 of the charstring: the charstring ends in the middle of a number"},
		{"an operand too many", "0 500 hsbw 1 2 3 rlineto endchar", "byte 7 of the charstring: rlineto has 3 operands, takes 2"},
		{"a pop of nothing", "0 500 hsbw pop endchar", "no result to pop"},
		{"a flex without its points", "0 500 hsbw 0 1 callothersubr 50 0 0 3 0 callothersubr endchar", "a flex ends with 0 of its 7 points"},
		{"a point outside a flex", "0 500 hsbw 0 2 callothersubr endchar", "where no flex begins"},
		{"OtherSubrs with more operands than there are", "0 500 hsbw 40 3 callothersubr endchar", "OtherSubrs 3 wants 40 operands, there are 0"},
		{"a blend of masters", "0 500 hsbw 1 2 2 14 callothersubr endchar", "multiple master"},
		{"a subroutine without end", "0 500 hsbw 5 callsubr endchar", "subroutines nest deeper than 10"},
		{"a subroutine below zero", "0 500 hsbw -1 callsubr endchar", "subroutine -1 is missing"},
		{"a seac of a glyph that is not there", "0 500 hsbw 0 0 0 65 66 seac", "character 65 of StandardEncoding"},
		{"a division by zero", "0 500 0 div hsbw endchar", "a division by zero"},
		{"a huge number not divided", "0 2000000000 hsbw 2000000000 hmoveto 1 hlineto endchar", "leaves the em"},
	} {
		f := type1Face(t, c.program, append(append([]string{}, firstSubrs...), "5 callsubr return")...)
		_, err := f.Drawing(1)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
		require.ErrorContains(t, err, c.want, c.reason)
		require.NotContains(t, err.Error(), "\n", c.reason)
		_, err = f.Drawing(0)
		require.NoError(t, err, c.reason)
	}
}

func sample(t testing.TB) *psfont.Font {
	return &psfont.Font{
		Name: "Trial", LenIV: 4, Subrs: []string{"return"},
		Private: []psfont.Entry{{Key: "StdHW", Values: []float64{62}}},
		Glyphs:  []psfont.Glyph{{Name: ".notdef", Program: "endchar"}, {Name: "A", Program: square}},
	}
}

func TestABrokenCFFIsAOneLineError(t *testing.T) {
	sound, err := sample(t).CFF()
	require.NoError(t, err)
	change := func(at int, b ...byte) []byte {
		c := bytes.Clone(sound)
		copy(c[at:], b)
		return c
	}
	stdHW := bytes.Index(sound, []byte{62 + 139, 10}) // 62 StdHW, in the Private DICT
	require.Positive(t, stdHW)
	for _, c := range []struct {
		reason string
		data   []byte
		want   string
	}{
		{"the header alone", sound[:5], "Name INDEX"},
		{"cut short", sound[:len(sound)-3], "Local Subr INDEX at byte"},
		{"a reserved byte in a DICT", change(stdHW, 31), "byte 0 of the Private (0) DICT: no number"},
		{"a real number without an end", change(stdHW, 30), "DICT: no number"},
		{"an INDEX of 65,535 objects", change(4, 0xFF, 0xFF), "declares 65535 objects"},
		{"offsets of nine bytes", change(6, 9), "offsets of 9 bytes"},
	} {
		_, err := Parse(c.data, 0)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
		require.ErrorContains(t, err, c.want, c.reason)
		require.NotContains(t, err.Error(), "\n", c.reason)
	}
}

func TestABrokenType1FileIsAOneLineError(t *testing.T) {
	f := sample(t)
	f.Glyphs[0].Program, f.Glyphs[1].Program = "0 500 hsbw endchar", "0 500 hsbw endchar"
	sound, err := f.PFB()
	require.NoError(t, err)
	text, err := f.PFA()
	require.NoError(t, err)
	for _, c := range []struct {
		reason string
		data   []byte
		want   string
	}{
		{"no encrypted half", []byte("%!PS-AdobeFont-1.0: Trial\n/FontName /Trial def\n"), "no eexec"},
		{"a segment cut short", sound[:200], "cut short"},
		{"a segment's header cut short", []byte{0x80, 1, 5}, "header at byte 0"},
		{"charstrings cut short", text[:len(text)-800], "cut short"},
		{"an em of 20,000 units", bytes.Replace(text, []byte("[0.001 0 0 0.001"), []byte("[5e-5 0 0 5e-05"), 1), "20000 units per em"},
		{"a matrix of nothing", bytes.Replace(text, []byte("[0.001 0 0 0.001"), []byte("[0.001 0 0 0.000"), 1), "FontMatrix"},
	} {
		_, err := Parse(c.data, 0)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
		require.ErrorContains(t, err, c.want, c.reason)
		require.NotContains(t, err.Error(), "\n", c.reason)
	}
	_, err = Parse(bytes.Replace(text, []byte("/PaintType 0"), []byte("/WeightVector [1 0] def /PaintType 0"), 1), 0)
	require.ErrorIs(t, err, ErrUnsupported, "a multiple master font")
	_, err = Parse(sound, 1)
	require.ErrorContains(t, err, "there is no face 1")
}

// draw reads every glyph of a face that may be hostile.
func drawAll(t *testing.T, data []byte) {
	f, err := Parse(data, 0)
	if err != nil {
		require.NotContains(t, err.Error(), "\n")
		return
	}
	for i := range min(len(f.Refs()), 50) {
		d, err := f.Design(i)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			continue
		}
		last := -1
		for _, e := range d.Outline.Ends {
			require.Greater(t, e, last)
			last = e
		}
		require.Equal(t, len(d.Outline.Points)-1, last, "every point is in a contour")
		p, ok := f.(PostScript)
		if !ok {
			continue
		}
		drawing, err := p.Drawing(i)
		require.NoError(t, err)
		before := -1
		for _, s := range drawing.Spans {
			require.Greater(t, s.Point, before, "spans rise")
			before = s.Point
			for _, h := range s.Hints {
				require.Less(t, h, len(drawing.Hints))
			}
		}
	}
}

func FuzzType1(f *testing.F) {
	font := sample(f)
	font.Glyphs[0].Program, font.Glyphs[1].Program = "0 500 hsbw endchar", "50 600 hsbw 0 62 hstem "+square
	binary, err := font.PFB()
	require.NoError(f, err)
	text, err := font.PFA()
	require.NoError(f, err)
	f.Add(binary)
	f.Add(text)
	f.Fuzz(func(t *testing.T, data []byte) {
		if bytes.HasPrefix(data, []byte{0x80}) || bytes.HasPrefix(data, []byte("%!")) {
			drawAll(t, data)
		}
	})
}

func FuzzCFF(f *testing.F) {
	plain, err := sample(f).CFF()
	require.NoError(f, err)
	font := sample(f)
	font.FDs = []psfont.FD{{Private: font.Private, Subrs: font.Subrs}}
	cid, err := font.CFF()
	require.NoError(f, err)
	f.Add(plain)
	f.Add(cid)
	f.Fuzz(func(t *testing.T, data []byte) {
		if isCFF(data) {
			drawAll(t, data)
		}
	})
}

// FuzzCharstring runs bytes as the charstring of a sound font, in each language.
func FuzzCharstring(f *testing.F) {
	for _, words := range []string{
		"0 10 20 10 hstemhm 0 92 hintmask 0xE0 " + square,
		"0 hmoveto 10 2 10 2 10 0 10 0 10 -2 10 -2 40 flex -107 callsubr endchar",
		"50 600 hsbw 0 62 hstem 5 4 callsubr 0 hmoveto 1 callsubr 65 65 seac endchar",
	} {
		one, err := psfont.Type1Charstring(strings.NewReplacer("hstemhm", "hstem", "hintmask", "", "flex", "").Replace(words))
		require.NoError(f, err)
		f.Add(one)
	}
	f.Fuzz(func(t *testing.T, code []byte) {
		font := sample(t)
		font.Glyphs[1].Program = fmt.Sprintf("0x%x", code)
		data, err := font.CFF()
		require.NoError(t, err)
		drawAll(t, data)
		font.Subrs = firstSubrs
		font.Glyphs[0].Program = "0 500 hsbw endchar"
		data, err = font.PFB()
		require.NoError(t, err)
		drawAll(t, data)
	})
}
