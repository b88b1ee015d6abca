package review

import (
	"cmp"
	"slices"

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

func (c *cause) worst() *harness.Change { return c.members[0] }

// weight is what a cause is ordered by: its worst change, with the score of all that
// have it. What is scattered has nothing in common but its finding.
func (c *cause) weight() harness.Weight {
	w := c.worst().Weight()
	if c.line != scattered {
		for _, m := range c.members[1:] {
			w = w.With(m.Score)
		}
	}
	return w
}

// fewest is how many glyphs of a strike share a cause before they are folded:
// two that look alike by chance stay apart.
const fewest = 3

// causes folds changes, so that each has one cause, gravest first and of one class
// the heaviest.
func causes(changes []*harness.Change) []*cause {
	byKind := map[kind][]*harness.Change{}
	var order []kind
	moved := readRows(changes)
	for _, c := range changes {
		k := moved.kindOf(c)
		if byKind[k] == nil {
			order = append(order, k)
		}
		byKind[k] = append(byKind[k], c)
	}
	var out []*cause
	for _, k := range order {
		for _, c := range fold(k, byKind[k], moved) {
			c.kind = k
			out = append(out, c)
		}
	}
	weights := map[*cause]harness.Weight{}
	for _, c := range out {
		weights[c] = c.weight()
	}
	slices.SortStableFunc(out, func(a, b *cause) int { return weights[b].Compare(weights[a]) })
	return twins(out)
}

// kind is what the changes of a cause have in common before they are folded. Parts
// of a letter that run together, such as its accents, are another matter than
// strokes that do; so is a glyph that is gone than one that is drawn otherwise.
type kind struct {
	face, finding string
	status        harness.Status
	sense         sense
	parts         bool
}

func kindOf(c *harness.Change) kind {
	if why := common(c); why != "" && (len(c.Findings) > 0 || c.Astray != "") {
		return kind{face: c.Face, finding: why}
	}
	return foundKind(c)
}

// foundKind is that of what was found, whatever the reason.
func foundKind(c *harness.Change) kind {
	finding := firstFinding(c)
	return kind{c.Face, finding, c.Status, senseOf(c), finding == "bridge" && c.Findings[0].Place.What != ""}
}

// kindOf is that of the alignment row that a change stands under, and of others their own.
func (r *alignmentRows) kindOf(c *harness.Change) kind {
	k := kindOf(c)
	switch row, follows := r.of[c]; {
	case follows:
		return kind{c.Face, "height", c.Status, sense{0, row.sense}, false}
	case k.finding == "overshoot" && r.many(rowOf(c, &c.Findings[0])):
		k.finding = "height"
	}
	return k
}

// firstFinding names what a change is listed under.
func firstFinding(c *harness.Change) string {
	switch {
	case len(c.Findings) > 0:
		return c.Findings[0].Finding
	case c.ByHand():
		return unapproved
	}
	return string(c.Status)
}

// directed are the findings of which more and less are not one cause.
var directed = []string{"stem-weight", "bar-weight", "height", "overshoot", "spacing", "moved"}

// sense is the way that a finding goes, 1 or -1: of what moved mostly aside, right or left
// along X; along Y up or down, and of a measure more or less. Zero where there is no way.
type sense struct{ x, y int }

// senseOf is that of a change's first finding.
func senseOf(c *harness.Change) sense {
	finding := firstFinding(c)
	endOfMark := finding == "edge" && isMark.MatchString(c.Findings[0].Place.What)
	if !slices.Contains(directed, finding) && !endOfMark {
		return sense{}
	}
	f := &c.Findings[0]
	x, y := f.Move.DX, f.Move.DY
	switch {
	case f.Finding == "moved" && max(x, -x) > max(y, -y):
		return sense{cmp.Compare(x, 0), 0}
	case f.Finding == "moved":
		return sense{0, cmp.Compare(y, 0)}
	}
	return sense{0, cmp.Compare(f.MeasurePx, 0)}
}
