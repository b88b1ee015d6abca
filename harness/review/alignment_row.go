package review

import (
	"slices"
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
	type rowKey struct {
		name   string            // of one of the face's
		strike harness.StrikeKey // of one without a name
	}
	byRow := map[rowKey][]*harness.Change{}
	var order []rowKey
	for _, c := range cs {
		row := rowKey{name: c.Findings[0].Place.What}
		if row.name == "" || strings.HasSuffix(row.name, " row") {
			row = rowKey{strike: c.StrikeKey()}
		}
		if byRow[row] == nil {
			order = append(order, row)
		}
		byRow[row] = append(byRow[row], c)
	}
	left := map[*harness.Change]bool{}
	for _, row := range order {
		members := byRow[row]
		if len(distinct(members, func(m *harness.Change) string { return m.Glyph })) < fewest {
			continue
		}
		rows = append(rows, &cause{line: ofRow, members: members})
		for _, c := range members {
			left[c] = true
		}
	}
	return rows, slices.DeleteFunc(slices.Clone(cs), func(c *harness.Change) bool { return left[c] })
}
