package face

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"smokeproof/harness/glyph"
)

// glyphList is the Adobe Glyph List 2.0, unchanged, under the licence at its head
// (github.com/adobe-type-tools/agl-aglfn).
//
//go:embed glyphlist.txt
var glyphList string

// listedNames are the names that stand for one character.
var listedNames = sync.OnceValue(func() map[string]rune {
	names := map[string]rune{}
	for line := range strings.Lines(glyphList) {
		name, code, ok := strings.Cut(strings.TrimSpace(line), ";")
		if !ok || strings.HasPrefix(name, "#") {
			continue
		}
		if c, err := strconv.ParseUint(code, 16, 21); err == nil {
			names[name] = rune(c)
		}
	}
	return names
})

// nameCode is the character that a glyph's name tells: a listed name, uni and
// four digits, or u and four to six (Adobe Glyph List Specification, section 2).
// Names with a suffix, of alternate forms, and of ligatures tell none.
func nameCode(name string) (rune, bool) {
	if c, ok := listedNames()[name]; ok {
		return c, true
	}
	digits, wide := strings.CutPrefix(name, "uni")
	if !wide || len(digits) != 4 {
		if digits = strings.TrimPrefix(name, "u"); len(digits) == len(name) || len(digits) < 4 || len(digits) > 6 {
			return 0, false
		}
	}
	c, err := strconv.ParseUint(digits, 16, 32)
	if err != nil || strings.ToUpper(digits) != digits || c > 0x10FFFF || c >= 0xD800 && c < 0xE000 {
		return 0, false
	}
	return rune(c), true
}

// encodedCodes gives a glyph whose name tells no character the code at which the
// font's own Encoding puts it, if no other glyph has it.
func encodedCodes(refs []glyph.Ref, taken map[rune]bool, glyphAt func(code int) int) {
	for code := range 256 {
		i := glyphAt(code)
		if i > 0 && refs[i].Code == glyph.NoCode && !taken[rune(code)] {
			refs[i].Code = rune(code)
		}
	}
}

// nameCodes gives each glyph the character that its name tells; where two tell
// the same, the first has it. It returns the characters given.
func nameCodes(refs []glyph.Ref) map[rune]bool {
	taken := map[rune]bool{}
	for i := range refs {
		if c, ok := nameCode(refs[i].Name); ok && !taken[c] {
			refs[i].Code, taken[c] = c, true
		}
	}
	return taken
}
