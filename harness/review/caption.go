package review

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// which names the glyphs of a cause: the worst, which its sentence is of, then the
// plainest; of many, some. Where one reason makes it, that of a letter and of those made of it,
// the plainest comes first.
func which(c *cause) string {
	if common(c.worst()) != "" {
		return glyph.FirstOf(distinct(slices.SortedStableFunc(slices.Values(c.members), plainest), spoken))
	}
	rest := slices.SortedStableFunc(slices.Values(c.members[1:]), plainestOfWorst)
	return glyph.FirstOf(distinct(append([]*harness.Change{c.worst()}, rest...), spoken))
}

// spoken is a glyph's name; beside one that is only a number stands its letter, figure or sign, but
// for those that lists and tables are made with. Of other scripts letters would run leftward or join.
func spoken(c *harness.Change) string {
	name, r := plain(c.Glyph), rune(c.Code)
	letter := unicode.IsLetter(r) && unicode.In(r, unicode.Latin, unicode.Greek, unicode.Cyrillic,
		unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul)
	sign := unicode.In(r, unicode.P, unicode.S) && unicode.Is(unicode.Common, r) && !strings.ContainsRune(",;|`", r)
	if isNumber.MatchString(name) && (letter || sign || r >= '0' && r <= '9') {
		return name + " " + string(r)
	}
	return name
}

// isNumber matches what stands for a code point, as keys and the Adobe Glyph List's own names do
// (AGL specification, section 2), or for a CID. The page reads it too.
var isNumber = regexp.MustCompile(`^(U\+|uni|u|cid)[0-9A-F]{4,}`)

// what is the sentence of the worst finding, which the others share or stay below, and
// why, where all have one reason.
func what(c *cause) string {
	text := func(m *harness.Change) string { return m.Findings[0].Text }
	said := plain(text(c.worst()))
	if len(distinct(c.members, text)) > 1 {
		said = "at worst " + said
	}
	if why := reason(c.worst()); why != "" && len(distinct(c.members, reason)) == 1 {
		said += "; " + why
	}
	return said
}

// unhinted says that a drawing is what the outline gives by itself.
const unhinted = "drawn unhinted: there are no hints, or they do nothing"

// reason is what the renderer remarked of a drawing, or that hints did nothing to it.
func reason(m *harness.Change) string {
	switch {
	case m.Astray != "":
		return "its golden, approved by " + plain(m.Astray) + ", is gone from the golden folder; restore it"
	case m.Note != "":
		return plain(m.Note)
	case m.Bare:
		return unhinted
	}
	return ""
}

// where names the strikes of a cause, sizes ascending: "text, 6, 7, 8 pt at 203, 300 dpi".
func where(c *cause) string {
	return strikesOf(distinct(c.members, func(m *harness.Change) string { return plain(m.Face) }),
		distinct(c.members, func(m *harness.Change) string { return m.Size }),
		distinct(c.members, func(m *harness.Change) string { return m.DPI }))
}

// strikesOf names strikes by their faces, sizes and resolutions.
func strikesOf(faces, size, dpi []string) string {
	return fmt.Sprintf("%s, %s at %s dpi", strings.Join(faces, " and "), sizes(size), strings.Join(ascending(dpi), ", "))
}

// sizes lists sizes in points; of many, their range and count.
func sizes(list []string) string {
	const most = 6
	list = ascending(list)
	if n := len(list); n > most {
		return fmt.Sprintf("%s–%s pt (%d sizes)", list[0], list[n-1], n)
	}
	return strings.Join(list, ", ") + " pt"
}

// ascending orders sizes or resolutions by their number.
func ascending(list []string) []string {
	return slices.SortedStableFunc(slices.Values(list), func(a, b string) int {
		return cmp.Or(cmp.Compare(leading(a), leading(b)), cmp.Compare(a, b))
	})
}

// leading is the number of a size, or of a resolution its first.
func leading(s string) float64 {
	first, _, _ := strings.Cut(s, "x")
	v, _ := strconv.ParseFloat(first, 64)
	return v
}

// common is a reason that makes one cause of what has it, whatever shows of it. That hints did
// nothing is none where drawings are looked at by themselves: each fault is one of its own there.
func common(m *harness.Change) string {
	if m.Status == harness.StatusLooked && m.Astray == "" && m.Note == "" {
		return ""
	}
	return reason(m)
}

func distinct(cs []*harness.Change, of func(*harness.Change) string) []string {
	seen := map[string]bool{}
	var out []string
	for _, c := range cs {
		if v := of(c); !seen[v] {
			seen[v] = true
			out = append(out, v)
		}
	}
	return out
}
