package review

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

func TestACauseNamesItsGlyphs(t *testing.T) {
	for _, c := range []struct {
		why    string
		glyphs []harness.Change
		want   string
	}{
		{"one", []harness.Change{{Glyph: "n"}}, "n"},
		{"one at two sizes is one", []harness.Change{{Glyph: "n"}, {Glyph: "n"}}, "n"},
		{"four, worst first", []harness.Change{{Glyph: "z"}, {Glyph: "a"}, {Glyph: "n"}, {Glyph: "m"}}, "z, a, n, m"},
		{"of more, three", []harness.Change{{Glyph: "z"}, {Glyph: "a"}, {Glyph: "n"}, {Glyph: "m"}, {Glyph: "u"}}, "z, a, n and 2 more"},
		{"the plainest of those that one reason befell", []harness.Change{{Glyph: "eacute", Code: 'é', Note: "the glyph's program is gone"}, {Glyph: "e", Code: 'e', Note: "the glyph's program is gone"}}, "e, eacute"},
		{"a number with its letter", []harness.Change{{Glyph: "U+0444", Code: 'ф'}}, "U+0444 ф"},
		{"a number with its figure", []harness.Change{{Glyph: "U+0036", Code: '6'}}, "U+0036 6"},
		{"a number with its sign", []harness.Change{{Glyph: "U+0040", Code: '@'}, {Glyph: "U+00AE", Code: '®'}}, "U+0040 @, U+00AE ®"},
		{"no sign that a table is made with", []harness.Change{{Glyph: "U+007C", Code: '|'}}, "U+007C"},
		{"the name of a code point", []harness.Change{{Glyph: "uni01B9", Code: 0x1B9}}, "uni01B9 ƹ"},
		{"a CID, which tells nothing", []harness.Change{{Glyph: "cid15782", Code: '鬱'}}, "cid15782 鬱"},
		{"a name that only begins like one", []harness.Change{{Glyph: "ubreve", Code: 'ŭ'}}, "ubreve"},
		{"no mark that is read as part of the list", []harness.Change{{Glyph: "U+002C", Code: ','}}, "U+002C"},
		{"no letter that runs leftward", []harness.Change{{Glyph: "U+05D0", Code: 'א'}}, "U+05D0"},
		{"no mark that would sit on the name", []harness.Change{{Glyph: "U+0301", Code: 0x301}}, "U+0301"},
		{"a stranger's name is escaped", []harness.Change{{Glyph: "uni0061\x1b[31m", Code: 'a'}}, "uni0061<U+001B>[31m a"},
	} {
		g := &cause{}
		for i := range c.glyphs {
			g.members = append(g.members, &c.glyphs[i])
		}
		require.Equal(t, c.want, which(g), c.why)
	}
}

func TestAPictureNamesTheLetterBesideANumber(t *testing.T) {
	c := one("U+006C")
	c.Code = 'l'
	require.True(t, strings.HasPrefix(sighting{&c, &c.Findings[0]}.caption(), "U+006C l, text 8 pt 203 dpi label: "), sighting{&c, &c.Findings[0]}.caption())
}
