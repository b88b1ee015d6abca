package review

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"smokeproof/harness"
)

// alike makes one cause of glyphs of one kind that changed at the same place in
// the same strikes: a letter, and those that are made of it.
func alike(list []*cause) []*cause {
	first := map[string]*cause{}
	var out []*cause
	for _, c := range list {
		if c.line != ofGlyph {
			out = append(out, c)
			continue
		}
		key := placesOf(c)
		o := first[key]
		if o == nil {
			first[key] = c
			out = append(out, c)
			continue
		}
		o.members = append(o.members, c.members...)
	}
	for _, c := range first {
		slices.SortStableFunc(c.members, plainestOfWorst)
	}
	return out
}

// placesOf tells the strikes of a cause and where in the glyph each finding is, or its
// reason; of a single strike, where two glyphs may be alike by chance, to the pixel and by its
// sentence.
func placesOf(c *cause) string {
	var list []string
	for _, m := range c.members {
		what := common(m)
		if what == "" && len(m.Findings) > 0 {
			f := &m.Findings[0]
			what = f.Place.What
			if len(c.members) == 1 {
				what = fmt.Sprint(f.Place, f.Text)
			}
		}
		list = append(list, fmt.Sprintf("%q", []string{m.Device, m.Size, m.DPI, what}))
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// twins makes one cause of those that came to the same bitmaps, over the same ones, in
// several faces: one design in two font formats. Where nearly all are the same, an accent
// that one format places a pixel aside makes no second matter of it.
func twins(list []*cause) []*cause {
	holders, drawings := map[string][]*cause{}, map[*cause]int{}
	return slices.DeleteFunc(list, func(c *cause) bool {
		keys, shared := bitmapsOf(c), map[*cause]int{}
		for _, key := range keys {
			for _, o := range holders[key] {
				if shared[o]++; float64(shared[o]) >= nearlyAll*float64(max(len(keys), drawings[o])) {
					o.members = append(o.members, c.members...)
					return true
				}
			}
		}
		drawings[c] = len(keys)
		for _, key := range keys {
			holders[key] = append(holders[key], c)
		}
		return false
	})
}

// bitmapsOf tells the strike, glyph and bitmaps of each change, and what the cause found.
func bitmapsOf(c *cause) []string {
	var list []string
	for _, m := range c.members {
		list = append(list, fmt.Sprintf("%q", []string{firstFinding(m), m.Device, m.Size, m.DPI, m.Glyph, m.Digest, m.Over}))
	}
	return list
}

// plainestOfWorst orders changes by severity, the plainest letter first: an
// accented one, of a later code, is made of it. Of one letter the worst is first.
func plainestOfWorst(a, b *harness.Change) int {
	return cmp.Or(gravity(a.Severity)-gravity(b.Severity), plainest(a, b), harness.Worse(b, a))
}

// plainest orders changes by their letters, those of the basic alphabet first.
func plainest(a, b *harness.Change) int {
	code := func(c *harness.Change) uint32 { // none at all is last
		if basic(c) {
			return 0
		}
		return uint32(c.Code)
	}
	return cmp.Or(cmp.Compare(code(a), code(b)), cmp.Compare(a.Code, b.Code))
}

// basic says that a change is of a letter of the basic alphabet.
func basic(c *harness.Change) bool {
	lower := c.Code | 0x20
	return lower >= 'a' && lower <= 'z'
}
