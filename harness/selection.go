package harness

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"smokeproof/harness/glyph"
)

// Selection is a set of glyphs: names, characters, code points and ranges of either
// ("a-z", "U+0041-005A"), indices ("#17"), separated by commas. The zero Selection is
// all glyphs.
type Selection struct{ parts []choice }

// choice is what stands between two commas.
type choice struct {
	text   string
	name   string
	lo, hi rune // none where hi is below lo
	index  int  // -1: none
}

func named(name string) choice { return choice{text: name, name: name, hi: -1, index: -1} }

func (p *choice) has(r glyph.Ref) bool {
	return p.name != "" && (p.name == r.Name || p.name == string(r.Key)) || p.index >= 0 && p.index == r.Index ||
		r.Code != glyph.NoCode && p.lo <= r.Code && r.Code <= p.hi
}

// ParseSelection reads a selection; "" and "all" select every glyph. A single
// character stands for itself, a comma is written "comma" or U+002C.
func ParseSelection(s string) (Selection, error) {
	var sel Selection
	if s == "" || s == "all" {
		return sel, nil
	}
	for _, t := range strings.Split(s, ",") {
		if err := sel.add(strings.TrimSpace(t)); err != nil {
			return sel, err
		}
	}
	return sel, nil
}

func (s *Selection) add(t string) error {
	p := named(t)
	switch {
	case t == "":
		return fmt.Errorf("glyph selection has an empty part; remove the extra comma")
	case strings.HasPrefix(t, "U+"):
		lo, hi, isRange := strings.Cut(t[2:], "-")
		if !isRange {
			hi = lo
		}
		a, err1 := strconv.ParseUint(lo, 16, 21)
		b, err2 := strconv.ParseUint(strings.TrimPrefix(hi, "U+"), 16, 21)
		if err1 != nil || err2 != nil || a > b {
			return fmt.Errorf("glyph selection %q is no code point or range; write U+0041 or U+0041-005A", t)
		}
		p.name, p.lo, p.hi = "", rune(a), rune(b)
	case len(t) > 1 && t[0] == '#':
		i, err := strconv.ParseUint(t[1:], 10, 31)
		if err != nil {
			return fmt.Errorf("glyph selection %q is no index; write #17", t)
		}
		p.name, p.index = "", int(i)
	case utf8.RuneCountInString(t) == 1:
		p.lo, _ = utf8.DecodeRuneInString(t)
		p.hi = p.lo
	case utf8.RuneCountInString(t) == 3 && []rune(t)[1] == '-':
		p.lo, p.hi = []rune(t)[0], []rune(t)[2]
		if p.lo > p.hi {
			return fmt.Errorf("glyph selection %q ends before it begins; write the lower character first", t)
		}
	}
	s.parts = append(s.parts, p)
	return nil
}

// All says that the selection leaves nothing out.
func (s Selection) All() bool { return len(s.parts) == 0 }

// Has says that a glyph is selected.
func (s Selection) Has(r glyph.Ref) bool {
	return s.All() || slices.ContainsFunc(s.parts, func(p choice) bool { return p.has(r) })
}

// Without gives the selection that is left of this one when each part is taken out
// that selects one of these glyphs.
func (s Selection) Without(refs []glyph.Ref) Selection {
	return Selection{slices.DeleteFunc(slices.Clone(s.parts), func(p choice) bool { return slices.ContainsFunc(refs, p.has) })}
}

// String lists the parts as they were written.
func (s Selection) String() string {
	var list []string
	for _, p := range s.parts {
		list = append(list, p.text)
	}
	return strings.Join(list, ", ")
}
