package review

import (
	"cmp"
	"slices"
	"strings"

	"smokeproof/harness"
)

// ofARow are the findings of an alignment row.
var ofARow = []string{"height", "overshoot"}

// movedRow is an alignment row of a strike that ends moved from, and which way: up is 1, down -1.
type movedRow struct {
	face, device, size, name string
	sense                    int
}

func (r movedRow) isNamed() bool { return r.name != "" && !strings.HasSuffix(r.name, " row") }

// rowOf is the row that a finding of a change is of.
func rowOf(c *harness.Change, f *harness.Finding) movedRow {
	return movedRow{c.Face, c.Device, c.Size, f.Place.What, cmp.Compare(f.MeasurePx, 0)}
}

// alignmentRows are the alignment rows that moved, and the changes that are of them.
type alignmentRows struct {
	flats map[movedRow][]*harness.Change // letters that end flat off it
	of    map[*harness.Change]movedRow   // of a change that is listed under another finding
}

// readRows finds the rows. Where many letters that end flat left one, rounds that moved
// likewise went with them and did not reach further by themselves.
func readRows(changes []*harness.Change) *alignmentRows {
	r := &alignmentRows{map[movedRow][]*harness.Change{}, map[*harness.Change]movedRow{}}
	for _, c := range changes {
		if firstFinding(c) == "height" {
			row := rowOf(c, &c.Findings[0])
			r.flats[row] = append(r.flats[row], c)
		}
	}
	for _, c := range changes {
		if common(c) == "" && len(c.Findings) > 0 && !slices.Contains(ofARow, firstFinding(c)) {
			if row, ok := r.followed(c); ok {
				r.of[c] = row
			}
		}
	}
	return r
}

// many says that enough letters left a row to tell that it moved.
func (r *alignmentRows) many(row movedRow) bool { return len(r.flats[row]) >= fewest }

// followed is the row of the face that a letter went along with, which is no graver than what the row
// does to others: the letter left it too, or a part of it, as a crossbar or an accent, moved as far.
func (r *alignmentRows) followed(c *harness.Change) (row movedRow, ok bool) {
	for i := range c.Findings {
		f := &c.Findings[i]
		if slices.Contains(ofARow, f.Finding) && r.takes(rowOf(c, f), c) {
			return rowOf(c, f), true
		}
	}
	f := &c.Findings[0]
	if f.Finding != "moved" || f.Move.DX != 0 {
		return row, false
	}
	most := 0
	for at, flats := range r.flats {
		same := at == movedRow{c.Face, c.Device, c.Size, at.name, cmp.Compare(f.Move.DY, 0)}
		if n := len(flats); same && r.takes(at, c) && flats[0].Findings[0].MeasurePx == float64(f.Move.DY) && (n > most || n == most && at.name < row.name) {
			row, ok, most = at, true, n
		}
	}
	return row, ok
}

// takes says that a change may stand under a row.
func (r *alignmentRows) takes(row movedRow, c *harness.Change) bool {
	return row.isNamed() && r.many(row) && gravity(c.Severity) >= gravity(r.flats[row][0].Severity)
}

// name is that of the row a change stands under; "" of none.
func (r *alignmentRows) name(c *harness.Change) string {
	if row, ok := r.of[c]; ok {
		return row.name
	}
	if row := rowOf(c, &c.Findings[0]); row.isNamed() {
		return row.name
	}
	return ""
}

// remove is how far a change is from telling of the row: 0 of one that is listed under it, else 1.
func (r *alignmentRows) remove(c *harness.Change) int {
	_, follows := r.of[c]
	return choose(follows, 1, 0)
}

// fold gives those that many glyphs left: one of the face's, as its x-height, at all sizes, and
// others in each strike. What left the row itself stands first, of one class flat ends. It gives the changes that are of none.
func (r *alignmentRows) fold(cs []*harness.Change) (list []*cause, rest []*harness.Change) {
	type key struct{ name, device, size string }
	byRow := map[key][]*harness.Change{}
	var order []key
	for _, c := range cs {
		row := key{name: r.name(c)}
		if row.name == "" {
			row = key{device: c.Device, size: c.Size}
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
		slices.SortStableFunc(members, func(a, b *harness.Change) int {
			return cmp.Or(r.remove(a)-r.remove(b), gravity(a.Severity)-gravity(b.Severity), cmp.Compare(firstFinding(a), firstFinding(b)))
		})
		list = append(list, &cause{line: ofRow, members: members})
		for _, c := range members {
			left[c] = true
		}
	}
	return list, slices.DeleteFunc(slices.Clone(cs), func(c *harness.Change) bool { return left[c] })
}
