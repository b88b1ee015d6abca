package review

import (
	"cmp"
	"regexp"
	"slices"

	"smokeproof/harness"
)

// line is what the changes of a cause lie on.
type line int

const (
	ofGlyph line = iota
	ofStrike
	ofRow
	ofMark
	ofRemark
	scattered
)

// fold puts the changes of one kind on lines. What the renderer remarks of glyphs in the
// same words, as that the face's program fails, befell them together.
func fold(k kind, cs []*harness.Change, moved *alignmentRows) []*cause {
	if k.finding == plain(cs[0].Note) {
		slices.SortStableFunc(cs, plainestOfWorst)
		return []*cause{{line: ofRemark, members: cs}}
	}
	var left []*cause
	if slices.Contains(ofARow, k.finding) {
		left, cs = moved.fold(cs)
	}
	if slices.Contains(ofAMark, k.finding) {
		left, cs = foldMarks(cs)
	}
	return append(left, gatherScattered(longestFirst(lines(cs)))...)
}

// ofAMark are the findings of a mark that stands elsewhere: all of it, or its end.
var ofAMark = []string{"moved", "edge"}

// foldMarks gives marks that moved over many letters of a face, as the accent that these are made
// with, at all sizes: one build moved it. It gives the changes that are of none.
func foldMarks(cs []*harness.Change) (list []*cause, rest []*harness.Change) {
	byMark := map[string][]*harness.Change{}
	var order []string
	for _, c := range cs {
		mark := c.Findings[0].Place.What
		switch {
		case !isMark.MatchString(mark):
			rest = append(rest, c)
			continue
		case byMark[mark] == nil:
			order = append(order, mark)
		}
		byMark[mark] = append(byMark[mark], c)
	}
	for _, mark := range order {
		members := byMark[mark]
		if len(distinct(members, func(m *harness.Change) string { return m.Glyph })) < fewest {
			rest = append(rest, members...)
			continue
		}
		slices.SortStableFunc(members, plainestOfWorst)
		list = append(list, &cause{line: ofMark, members: members})
	}
	return list, rest
}

// isMark matches the names that marks have in findings.
var isMark = regexp.MustCompile(`(^|\s)(accents?|dots?|cedilla|ogonek|horn)$`)

// lines are all that changes of one kind lie on; each change is on one of its
// glyph, or of its glyph and those like it, and on one of its strike where that is
// long enough.
func lines(cs []*harness.Change) []*cause {
	glyphs, strikes := map[string][]*harness.Change{}, map[harness.StrikeKey][]*harness.Change{}
	for _, c := range cs {
		glyphs[c.Glyph] = append(glyphs[c.Glyph], c)
		strikes[c.StrikeKey()] = append(strikes[c.StrikeKey()], c)
	}
	var out, rows []*cause
	for _, c := range cs {
		if g := glyphs[c.Glyph]; g[0] == c {
			out = append(out, &cause{line: ofGlyph, members: g})
		}
		if s := strikes[c.StrikeKey()]; s[0] == c && len(s) >= fewest {
			rows = append(rows, &cause{line: ofStrike, members: s})
		}
	}
	return append(alike(out), rows...)
}

// longestFirst takes lines off until every change is in one. A line's length only
// falls, so a line is put back when it is shorter than it was thought.
func longestFirst(lines []*cause) []*cause {
	slices.SortStableFunc(lines, func(a, b *cause) int { return cmp.Compare(len(b.members), len(a.members)) })
	taken := map[*harness.Change]bool{}
	var out []*cause
	for len(lines) > 0 {
		l := lines[0]
		lines = lines[1:]
		left := slices.DeleteFunc(slices.Clone(l.members), func(c *harness.Change) bool { return taken[c] })
		if len(left) == 0 || l.line == ofStrike && len(left) < fewest {
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

// aPart is how many lines a kind is worth: a line shorter than that part of
// its kind is scattered, so that many changes do not make many causes.
const aPart = 12

// gatherScattered makes one cause of the changes on lines that are too short.
func gatherScattered(lines []*cause) []*cause {
	all := 0
	for _, l := range lines {
		all += len(l.members)
	}
	least := max(2, all/aPart)
	rest := &cause{line: scattered}
	var kept []*cause
	for _, l := range lines {
		if len(l.members) < least {
			rest.members = append(rest.members, l.members...)
		} else {
			kept = append(kept, l)
		}
	}
	if len(rest.members) < fewest {
		return lines
	}
	slices.SortStableFunc(rest.members, func(a, b *harness.Change) int { return harness.Worse(b, a) })
	return append(kept, rest)
}
