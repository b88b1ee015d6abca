package review

import (
	"strings"

	"smokeproof/harness"
)

// ofARow are the findings of an alignment row.
var ofARow = []string{"height", "overshoot"}

// movedRow is an alignment row of a strike that ends moved from, and which way.
type movedRow struct {
	face, device, size, name string
	sense                    int
}

func rowOf(c *harness.Change) movedRow {
	return movedRow{c.Face, c.Device, c.Size, c.Findings[0].Place.What, sense(c)}
}

// flatRows counts the letters that end flat off each row: where many do, rounds that
// moved likewise went with them and did not reach further by themselves.
func flatRows(changes []*harness.Change) map[movedRow]int {
	flats := map[movedRow]int{}
	for _, c := range changes {
		if firstFinding(c) == "height" {
			flats[rowOf(c)]++
		}
	}
	return flats
}

// alignmentRows are those that many glyphs left: one of the face's, as its x-height, at
// all sizes, and others in each strike. It gives the changes that are of none.
func alignmentRows(cs []*harness.Change) (rows []*cause, rest []*harness.Change) {
	byRow := map[[3]string][]*harness.Change{}
	row := func(c *harness.Change) [3]string {
		if what := c.Findings[0].Place.What; what != "" && !strings.HasSuffix(what, " row") {
			return [3]string{what}
		}
		return [3]string{"", c.Device, c.Size}
	}
	for _, c := range cs {
		byRow[row(c)] = append(byRow[row(c)], c)
	}
	for _, c := range cs {
		members := byRow[row(c)]
		switch {
		case len(distinct(members, func(m *harness.Change) string { return m.Glyph })) < fewest:
			rest = append(rest, c)
		case members[0] == c:
			rows = append(rows, &cause{line: ofRow, members: members})
		}
	}
	return rows, rest
}
