package review

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"smokeproof/harness"
)

// cause is one thing to decide: a finding that goes the same way in the glyphs
// of one face, along a line: one glyph at any of its sizes, any glyphs of one
// strike, any that keep to one alignment row, or all of which the renderer remarks
// the same. What is on no line is scattered, and one cause too.
type cause struct {
	kind    kind
	line    line
	members []*harness.Change // worst first
}

type line int

const (
	ofGlyph line = iota
	ofStrike
	ofRow
	ofRemark
	scattered
)

func (c *cause) worst() *harness.Change { return c.members[0] }

// weight is what a cause is ordered by: its worst change, with the score of all that
// have it. What is scattered has nothing in common but its finding.
func (c *cause) weight() *harness.Change {
	w := *c.worst()
	if c.line != scattered {
		for _, m := range c.members[1:] {
			w.Score += m.Score
		}
	}
	return &w
}

// fewest is how many glyphs of a strike share a cause before they are folded:
// two that look alike by chance stay apart.
const fewest = 3

// firstFinding names what a change is listed under.
func firstFinding(c *harness.Change) string {
	switch {
	case len(c.Findings) > 0:
		return c.Findings[0].Finding
	case c.ByHand():
		return unapproved
	}
	return c.Status
}

// directed are the findings of which more and less are not one cause.
var directed = []string{"stem-weight", "bar-weight", "height", "overshoot", "spacing", "moved"}

// sense is the way that a change's first finding goes: 1 for more, -1 for less,
// 0 where the two are no different matters.
func sense(c *harness.Change) int {
	if !slices.Contains(directed, firstFinding(c)) {
		return 0
	}
	return cmp.Compare(c.Findings[0].MeasurePx, 0)
}

// kind is what the changes of a cause have in common before they are folded. Parts
// of a letter that run together, such as its accents, are another matter than
// strokes that do; so is a glyph that is gone than one that is drawn otherwise.
type kind struct {
	face, finding, status string
	sense                 int
	parts                 bool
}

func kindOf(c *harness.Change) kind {
	if why := reason(c); why != "" && len(c.Findings) > 0 {
		return kind{face: c.Face, finding: why}
	}
	finding := firstFinding(c)
	return kind{c.Face, finding, c.Status, sense(c), finding == "bridge" && c.Findings[0].Place.What != ""}
}

// causes folds changes, so that each has one cause, gravest first and of one class
// the heaviest.
func causes(changes []*harness.Change) []*cause {
	byKind := map[kind][]*harness.Change{}
	var order []kind
	flats := flatRows(changes)
	for _, c := range changes {
		k := kindOf(c)
		if k.finding == "overshoot" && flats[rowOf(c)] >= fewest {
			k.finding = "height"
		}
		if byKind[k] == nil {
			order = append(order, k)
		}
		byKind[k] = append(byKind[k], c)
	}
	var out []*cause
	for _, k := range order {
		for _, c := range fold(k, byKind[k]) {
			c.kind = k
			out = append(out, c)
		}
	}
	weights := map[*cause]*harness.Change{}
	for _, c := range out {
		weights[c] = c.weight()
	}
	slices.SortStableFunc(out, func(a, b *cause) int { return harness.Worse(weights[b], weights[a]) })
	return twins(out)
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

// fold puts the changes of one kind on lines. What the renderer remarks of glyphs in the
// same words, as that the face's program fails, befell them together.
func fold(k kind, cs []*harness.Change) []*cause {
	if k.finding == plain(cs[0].Note) {
		slices.SortStableFunc(cs, plainestOfWorst)
		return []*cause{{line: ofRemark, members: cs}}
	}
	var rows []*cause
	if slices.Contains(ofARow, k.finding) {
		rows, cs = alignmentRows(cs)
	}
	return append(rows, gatherScattered(longestFirst(lines(cs)))...)
}

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

// plainestOfWorst orders changes by severity, the plainest letter first: an
// accented one, of a later code, is made of it. Of one letter the worst is first.
func plainestOfWorst(a, b *harness.Change) int {
	severity := func(c *harness.Change) int { return slices.Index(severities[:], c.Severity) }
	code := func(c *harness.Change) uint32 { // none at all is last
		if basic(c) {
			return 0
		}
		return uint32(c.Code)
	}
	return cmp.Or(cmp.Compare(severity(a), severity(b)), cmp.Compare(code(a), code(b)), cmp.Compare(a.Code, b.Code), harness.Worse(b, a))
}

// basic says that a change is of a letter of the basic alphabet.
func basic(c *harness.Change) bool {
	lower := c.Code | 0x20
	return lower >= 'a' && lower <= 'z'
}

// placesOf tells the strikes of a cause and where in the glyph each finding is, or its
// reason; of a single strike, where two glyphs may be alike by chance, to the pixel and by its
// sentence.
func placesOf(c *cause) string {
	var list []string
	for _, m := range c.members {
		what := reason(m)
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

// lines are all that changes of one kind lie on; each change is on one of its
// glyph, or of its glyph and those like it, and on one of its strike where that is
// long enough.
func lines(cs []*harness.Change) []*cause {
	glyphs, strikes := map[string][]*harness.Change{}, map[[2]string][]*harness.Change{}
	strike := func(c *harness.Change) [2]string { return [2]string{c.Device, c.Size} }
	for _, c := range cs {
		glyphs[c.Glyph] = append(glyphs[c.Glyph], c)
		strikes[strike(c)] = append(strikes[strike(c)], c)
	}
	var out, rows []*cause
	for _, c := range cs {
		if g := glyphs[c.Glyph]; g[0] == c {
			out = append(out, &cause{line: ofGlyph, members: g})
		}
		if s := strikes[strike(c)]; s[0] == c && len(s) >= fewest {
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
