package glyph

import (
	"fmt"
	"strconv"
	"strings"
)

// Key is how a glyph is known across revisions of a face: its name, else its
// lowest code point as "U+0041", else its index as "#17". Keys come from
// untrusted files: they are never paths and never markup.
type Key string

// NoCode is the code of a glyph that no character maps to.
const NoCode rune = -1

// Ref says which glyph of a face is meant.
type Ref struct {
	Key   Key
	Name  string // as the font file has it; "" where it has none
	Code  rune   // lowest code point, or NoCode
	Index int    // glyph index in the font file
}

// FirstOf names the first of many glyphs, or of what else has names, and says how many more there are.
func FirstOf(names []string) string { return FirstOfMany(names, len(names)) }

// FirstOfMany is FirstOf for n names, of which the first four are given.
func FirstOfMany(names []string, n int) string {
	const all, told = 4, 3
	if n > all {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:told], ", "), n-told)
	}
	return strings.Join(names, ", ")
}

// SetKeys fills in the Key of each ref. A name that stands for more than one
// glyph, or that reads like a code point or an index, names nothing: such
// glyphs fall back to code point, then to index.
func SetKeys(refs []Ref) {
	seen := make(map[string]int, len(refs))
	for _, r := range refs {
		seen[r.Name]++
	}
	for i := range refs {
		r := &refs[i]
		switch {
		case r.Name != "" && seen[r.Name] == 1 && !reserved(r.Name):
			r.Key = Key(r.Name)
		case r.Code != NoCode:
			r.Key = Key(fmt.Sprintf("U+%04X", r.Code))
		default:
			r.Key = Key("#" + strconv.Itoa(r.Index))
		}
	}
}

func reserved(name string) bool {
	return name[0] == '#' || len(name) > 2 && name[:2] == "U+"
}
