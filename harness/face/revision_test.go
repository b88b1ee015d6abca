package face

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
)

// revised is a demo face, and as it is after a change to its tables in place.
func revised(t *testing.T, alter func(tag func(string) []byte, font []byte)) (was, now Face) {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	was, err = Parse(slices.Clone(font), 0)
	require.NoError(t, err)
	dir, err := readDirectory(font, 0)
	require.NoError(t, err)
	alter(func(tag string) []byte {
		b, err := dir.need(tag, 1)
		require.NoError(t, err)
		return b
	}, font)
	now, err = Parse(font, 0)
	require.NoError(t, err)
	return was, now
}

// lose renames tables in the directory, so that nobody finds them.
func lose(font []byte, tags ...string) {
	for i := range int(font[4])<<8 | int(font[5]) {
		if tag := font[12+16*i:][:4]; slices.Contains(tags, string(tag)) {
			copy(tag, "lost")
		}
	}
}

func refOf(t *testing.T, f Face, key glyph.Key) glyph.Ref {
	i := slices.IndexFunc(f.Refs(), func(r glyph.Ref) bool { return r.Key == key })
	require.GreaterOrEqual(t, i, 0, key)
	return f.Refs()[i]
}

func TestWhatAFontHasInCommonIsToldOfGlyphsThatAreAsTheyWere(t *testing.T) {
	for _, c := range []struct {
		reason string
		alter  func(tag func(string) []byte, font []byte)
		want   string // of H
	}{
		{"nothing", func(func(string) []byte, []byte) {}, ""},
		{"a table that a build lost", func(_ func(string) []byte, font []byte) { lose(font, "prep") }, "prep is gone"},
		{"two of them", func(_ func(string) []byte, font []byte) { lose(font, "fpgm", "prep") }, "fpgm and prep are gone"},
		{"a program", func(tag func(string) []byte, _ []byte) { tag("prep")[0] ^= 1 }, "prep is another program"},
		{"a control value", func(tag func(string) []byte, _ []byte) { tag("cvt ")[3]++ }, "control value 1 is 491, was 490"},
		{"what maxp allows", func(tag func(string) []byte, _ []byte) { tag("maxp")[24], tag("maxp")[25] = 0, 1 }, "maxStackElements of maxp is 1, was 256"},
		{"names, which nothing draws from", func(tag func(string) []byte, _ []byte) { tag("name")[20] ^= 1 }, ""},
		{"the glyph's own advance, and a control value", func(tag func(string) []byte, _ []byte) {
			for i := 1; i < len(tag("hmtx")); i += 4 {
				tag("hmtx")[i]++
			}
			tag("cvt ")[3]++
		}, ""},
	} {
		was, now := revised(t, c.alter)
		require.Equal(t, c.want, NewRevision(was, now).Reason(refOf(t, now, "H")), c.reason)
	}
}

func TestControlValuesThatChangedAlikeAreToldTogether(t *testing.T) {
	require.Equal(t, []string{"cvt has 7 values, had 6", "control values 0, 1, 2, and 2 more are 60, were 50", "control value 5 is 8, was 9"},
		(&Revision{scale: 1}).controlValues([]int16{50, 50, 50, 50, 50, 9}, []int16{60, 60, 60, 60, 60, 8, 7}))
}

func TestOfManyDifferencesThoseAreToldThatFit(t *testing.T) {
	for _, c := range []struct {
		reason string
		list   []string
		want   string
	}{
		{"none", nil, ""},
		{"two", []string{"prep is gone", "cvt is gone"}, "prep is gone; cvt is gone"},
		{"one too long is told all the same", []string{strings.Repeat("x", 99), "cvt is gone"}, strings.Repeat("x", 99) + "; 1 more"},
		{"the third has no room", []string{strings.Repeat("x", 40), strings.Repeat("y", 40), strings.Repeat("z", 40)}, strings.Repeat("x", 40) + "; " + strings.Repeat("y", 40) + "; 1 more"},
	} {
		require.Equal(t, c.want, sentence(c.list), c.reason)
	}
}

func TestAHintDictionaryThatChangedIsToldByItsEntries(t *testing.T) {
	font := func(width float64, program string) Face {
		return parseCFF(t, &psfont.Font{Name: "T", Private: []psfont.Entry{{Key: "StdHW", Values: []float64{width}}},
			Glyphs: []psfont.Glyph{{Name: ".notdef", Program: "endchar"}, {Name: "l", Program: program}}})
	}
	const as, other = "100 0 rmoveto 80 hlineto 700 vlineto -80 hlineto endchar", "100 0 rmoveto 90 hlineto 700 vlineto -90 hlineto endchar"
	was := font(84, as)
	for _, c := range []struct{ reason, program, want string }{
		{"the glyph as it was", as, "StdHW is 90, was 84"},
		{"another drawing", other, ""},
	} {
		now := font(90, c.program)
		require.Equal(t, c.want, NewRevision(was, now).Reason(refOf(t, now, "l")), c.reason)
	}
	ttf, _ := revised(t, func(func(string) []byte, []byte) {})
	require.Empty(t, NewRevision(ttf, was).Reason(refOf(t, was, "l")), "another format is another font")
	require.Empty(t, NewRevision(ttf, was).Reason(refOf(t, was, "l")), "another format is another font")
	require.Empty(t, NewRevision(was, ttf).Reason(refOf(t, ttf, "l")), "another format is another font")
}

func TestAFontThatLacksWhatItsProgramsGoByIsTold(t *testing.T) {
	for _, c := range []struct {
		reason string
		lost   []string
		glyph  glyph.Key
		want   string
	}{
		{"all is there", nil, "H", ""},
		{"without the control value program", []string{"prep"}, "H", "the font has glyph programs and no prep"},
		{"a composite goes by the programs of its parts", []string{"prep"}, "eacute", "the font has glyph programs and no prep"},
		{"without any", []string{"fpgm", "prep", "cvt "}, "H", "the font has glyph programs and no fpgm, no prep, no cvt"},
		{"a glyph without a program", []string{"prep"}, "space", ""},
	} {
		_, f := revised(t, func(_ func(string) []byte, font []byte) { lose(font, c.lost...) })
		require.Equal(t, c.want, Lacks(f, refOf(t, f, c.glyph).Index), c.reason)
	}
	otf, err := Open("../../fixtures/larkmoor-text-a.otf", 0)
	require.NoError(t, err)
	require.Empty(t, Lacks(otf, 5), "no programs, no tables")
}

func TestWhatDiffersInAFontIsToldInALine(t *testing.T) {
	as := func(func(string) []byte, []byte) {}
	for _, c := range []struct {
		reason string
		alter  func(tag func(string) []byte, font []byte)
		want   string
	}{
		{"nothing", as, "nothing that is drawn"},
		{"a name", func(tag func(string) []byte, _ []byte) { tag("name")[20] ^= 1 }, "nothing that is drawn; of the rest: name"},
		{"the day of a build", func(tag func(string) []byte, _ []byte) { tag("head")[30]++ }, "nothing that is drawn"},
		{"a control value", func(tag func(string) []byte, _ []byte) { tag("cvt ")[3]++ }, "control value 1 is 491, was 490"},
		{"an advance, and a table", func(tag func(string) []byte, font []byte) {
			tag("hmtx")[1]++
			lose(font, "prep")
		}, "prep is gone; advances of 1 glyph (.notdef)"},
		{"every advance", func(tag func(string) []byte, _ []byte) {
			for i := 1; i < len(tag("hmtx")); i += 4 {
				tag("hmtx")[i]++
			}
		}, "advances of 87 glyphs (.notdef, space, period and 84 more)"},
	} {
		was, now := revised(t, c.alter)
		require.Equal(t, c.want, NewRevision(was, now).Differences(), c.reason)
	}
	a, b := "../../fixtures/larkmoor-text-a", "../../fixtures/larkmoor-text-b"
	for _, c := range []struct{ was, now, want string }{
		{a + ".ttf", b + ".ttf", "prep is another program; outlines of 4 glyphs (slash, seven, h, o); point numbers of 1 glyph (L); hints of 12 glyphs (E, H, I and 9 more)"},
		{a + ".otf", a + ".otf", "nothing that is drawn"},
		{a + ".ttf", a + ".otf", "one is TrueType, the other CFF"},
	} {
		was, err := Open(c.was, 0)
		require.NoError(t, err)
		now, err := Open(c.now, 0)
		require.NoError(t, err)
		require.Equal(t, c.want, NewRevision(was, now).Differences())
	}
	was, err := Open(a+".pfb", 0)
	require.NoError(t, err)
	now, err := Open(b+".pfb", 0)
	require.NoError(t, err)
	require.Contains(t, NewRevision(was, now).Differences(), "; hints of 3 glyphs (H, L, l); advances of 1 glyph (r)")
}

func TestTheReasonWhyAGlyphIsDrawnOtherwiseIsOneThing(t *testing.T) {
	wide := func(key glyph.Key) func(func(string) []byte, []byte) {
		return func(tag func(string) []byte, _ []byte) {
			f, err := Open("../../fixtures/larkmoor-text-a.ttf", 0)
			require.NoError(t, err)
			tag("hmtx")[4*refOf(t, f, key).Index+1]++
		}
	}
	for _, c := range []struct {
		reason string
		alter  func(tag func(string) []byte, font []byte)
		glyph  glyph.Key
		want   string
	}{
		{"nothing", func(func(string) []byte, []byte) {}, "e", ""},
		{"what all have in common", func(_ func(string) []byte, font []byte) { lose(font, "prep") }, "e", "prep is gone"},
		{"the advance, which programs go by", wide("e"), "e", "the advance is 1 unit wider"},
		{"that of a letter that it is made of", wide("e"), "eacute", "the advance is 1 unit wider"},
		{"of another letter", wide("e"), "o", ""},
		{"two things", func(tag func(string) []byte, font []byte) { wide("e")(tag, font); lose(font, "prep") }, "e", ""},
	} {
		was, now := revised(t, c.alter)
		require.Equal(t, c.want, NewRevision(was, now).Reason(refOf(t, now, c.glyph)), c.reason)
	}
}

func TestHintsAreAlikeWhereNothingThatHintsIsAnother(t *testing.T) {
	for _, c := range []struct {
		reason string
		alter  func(tag func(string) []byte, font []byte)
		want   bool
	}{
		{"nothing is another", func(func(string) []byte, []byte) {}, true},
		{"an advance is", func(tag func(string) []byte, _ []byte) { tag("hmtx")[1]++ }, true},
		{"a control value is", func(tag func(string) []byte, _ []byte) { tag("cvt ")[3]++ }, false},
	} {
		was, now := revised(t, c.alter)
		require.Equal(t, c.want, NewRevision(was, now).SameHints(refOf(t, now, "eacute")), c.reason)
	}
	was, err := Open("../../fixtures/larkmoor-text-a.pfb", 0)
	require.NoError(t, err)
	now, err := Open("../../fixtures/larkmoor-text-b.pfb", 0)
	require.NoError(t, err)
	r := NewRevision(was, now)
	require.False(t, r.SameHints(refOf(t, now, "l")), "its stems are declared otherwise")
	ttf, _ := revised(t, func(func(string) []byte, []byte) {})
	require.False(t, NewRevision(ttf, was).SameHints(refOf(t, was, "l")), "another format is another font")
}

func TestAStemThatIsDeclaredOtherwiseIsToldByItsEdges(t *testing.T) {
	font := func(program string) Face {
		return parseCFF(t, &psfont.Font{Name: "T", Glyphs: []psfont.Glyph{{Name: ".notdef", Program: "endchar"}, {Name: "l", Program: program}}})
	}
	const drawn = "100 0 rmoveto 80 hlineto 700 vlineto -80 hlineto endchar"
	for _, c := range []struct{ reason, was, now, want string }{
		{"as it was", "100 80 vstem ", "100 80 vstem ", ""},
		{"wider", "100 80 vstem ", "100 120 vstem ", "a stem is declared from 100 to 220, was from 100 to 180"},
		{"a bar", "0 40 hstem ", "0 60 hstem ", "a bar is declared from 0 to 60, was from 0 to 40"},
		{"none any more", "100 80 vstem ", "", "no stems are declared any more"},
		{"none before", "", "100 80 vstem ", "stems are declared, and none were"},
		{"a stem for a bar", "100 80 vstem ", "0 40 hstem ", ""},
	} {
		was, now := font(c.was+drawn), font(c.now+drawn)
		require.Equal(t, c.want, NewRevision(was, now).Reason(refOf(t, now, "l")), c.reason)
	}
	begunElsewhere := font("100 80 vstem 180 0 rmoveto 700 vlineto -80 hlineto -700 vlineto endchar")
	require.Equal(t, "nothing that is drawn", NewRevision(font("100 80 vstem "+drawn), begunElsewhere).Differences())
}
