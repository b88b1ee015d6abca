package main

import (
	"fmt"
	"slices"
	"strings"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// mostLookedAt is how many drawings look makes of the fonts named, unless --glyphs says which:
// of ideographs, a quarter of a minute of a core.
const mostLookedAt = 60_000

// budget narrows a plan made up for fonts to the glyphs that readers meet first, where all are more
// drawings than mostLookedAt, and says so. It is false where the plan stays as it is.
func (c *call) budget(p *harness.Plan, strikes []harness.StrikeJob) bool {
	all := 0
	for i := range strikes {
		all += strikes[i].Count()
	}
	if all <= mostLookedAt {
		return false
	}
	narrowed, each := false, mostLookedAt/len(strikes)
	for i := range p.Faces {
		f := &p.Faces[i]
		k := slices.IndexFunc(strikes, func(s harness.StrikeJob) bool { return s.Face == f })
		if k < 0 || strikes[k].Count() <= each {
			continue
		}
		text, n := metFirst(strikes[k].Glyphs(), each)
		if n == 0 {
			continue
		}
		f.Glyphs, _ = harness.ParseSelection(text) // which is one by its making
		c.warn("%s: looks at %d of its %d glyphs, %s; --glyphs all looks at every one", f.Rel, n, strikes[k].Count(), text)
		narrowed = true
	}
	return narrowed
}

// metFirst selects at most n glyphs that have code points, the lowest first, but ideographs of
// Extension A last: they are rare (common practice, no source).
func metFirst(refs []glyph.Ref, n int) (selection string, count int) {
	var codes []rune
	for i := range refs {
		if refs[i].Code != glyph.NoCode {
			codes = append(codes, refs[i].Code)
		}
	}
	slices.Sort(codes)
	var ranges []string
	for _, s := range [][2]rune{{0, 0x33FF}, {0x4DC0, 0x10FFFF}, {0x3400, 0x4DBF}} {
		from, _ := slices.BinarySearch(codes, s[0])
		to, _ := slices.BinarySearch(codes, s[1]+1)
		if to = min(to, from+n-count); from < to {
			ranges = append(ranges, fmt.Sprintf("U+%04X-%04X", codes[from], codes[to-1]))
			count += to - from
		}
	}
	return strings.Join(ranges, ","), count
}
