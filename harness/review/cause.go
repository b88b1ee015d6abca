package review

import (
	"cmp"
	"slices"

	"smokeproof/harness"
)

// cause is one thing to decide: a finding of one glyph at any number of sizes,
// or of any number of glyphs in one strike.
type cause struct {
	strike  bool // its members share a strike, else a glyph
	members []*harness.Change
}

func (c *cause) worst() *harness.Change { return c.members[0] }

// fewest is how many glyphs of a strike share a cause before they are folded:
// two that look alike by chance stay apart.
const fewest = 3

// firstFinding names what a change is listed under.
func firstFinding(c *harness.Change) string {
	if len(c.Findings) == 0 {
		return c.Status
	}
	return c.Findings[0].Finding
}

// causes folds changes, gravest first. Among the changes of one face, device and
// finding it takes the longest line first, a glyph over sizes or a strike over
// glyphs, so that each change has one cause.
func causes(res *harness.Results) []*cause {
	byFinding := map[[3]string][]*harness.Change{}
	var order [][3]string
	for _, c := range worstFirst(res) {
		k := [3]string{c.Face, c.Device, firstFinding(c)}
		if byFinding[k] == nil {
			order = append(order, k)
		}
		byFinding[k] = append(byFinding[k], c)
	}
	var out []*cause
	for _, k := range order {
		out = append(out, foldLines(byFinding[k])...)
	}
	slices.SortStableFunc(out, func(a, b *cause) int { return harness.Worse(b.worst(), a.worst()) })
	return out
}

// foldLines splits changes of one finding into lines by glyph and by strike.
func foldLines(cs []*harness.Change) []*cause {
	glyphs, strikes := map[string][]*harness.Change{}, map[string][]*harness.Change{}
	for _, c := range cs {
		glyphs[c.Glyph] = append(glyphs[c.Glyph], c)
		strikes[c.Size] = append(strikes[c.Size], c)
	}
	var lines []*cause
	for _, c := range cs {
		if g := glyphs[c.Glyph]; g[0] == c {
			lines = append(lines, &cause{members: g})
		}
		if s := strikes[c.Size]; s[0] == c && len(s) >= fewest {
			lines = append(lines, &cause{strike: true, members: s})
		}
	}
	return longestFirst(lines)
}

// longestFirst takes lines off until every change is in one. A line's length
// only falls, so a line is put back when it is shorter than it was thought.
func longestFirst(lines []*cause) []*cause {
	slices.SortStableFunc(lines, func(a, b *cause) int { return cmp.Compare(len(b.members), len(a.members)) })
	taken := map[*harness.Change]bool{}
	var out []*cause
	for len(lines) > 0 {
		l := lines[0]
		lines = lines[1:]
		left := slices.DeleteFunc(slices.Clone(l.members), func(c *harness.Change) bool { return taken[c] })
		if len(left) == 0 || l.strike && len(left) < fewest {
			continue
		}
		if len(left) < len(l.members) {
			l.members = left
			at, _ := slices.BinarySearchFunc(lines, len(left), func(x *cause, n int) int { return cmp.Compare(n, len(x.members)) })
			lines = slices.Insert(lines, at, l)
			continue
		}
		for _, c := range left {
			taken[c] = true
		}
		out = append(out, l)
	}
	return out
}
