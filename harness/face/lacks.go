package face

import "strings"

// hintTables are those that glyph programs go by.
var hintTables = []string{"fpgm", "prep", "cvt "}

// Lacks says of a glyph that has a program, its own or a component's, which of the tables that
// programs go by its font has not, as after a build that lost one; "" where it has all. That hinted faces
// have all three is common practice, no source: those of our Debian packages do.
func Lacks(f Face, index int) string {
	t, ok := f.(*TrueType)
	if !ok {
		return ""
	}
	var none []string
	for _, tag := range hintTables {
		if len(t.tables.get(tag)) == 0 {
			none = append(none, strings.TrimSpace(tag))
		}
	}
	if len(none) == 0 {
		return ""
	}
	if _, plain := t.AppendPlain(nil, index); plain {
		return ""
	}
	return "the font has glyph programs and no " + strings.Join(none, ", no ")
}
