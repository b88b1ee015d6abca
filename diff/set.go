package diff

import (
	"cmp"
	"slices"

	"smokeproof/harness/glyph"
)

// Member is one glyph of a strike and what its maker drew.
type Member struct {
	Cell   *glyph.Cell
	Design *glyph.Design
}

// SetFinding is a fault that shows only beside the other glyphs of a strike,
// or beside the next size. Glyph is empty where the whole strike has it.
type SetFinding struct {
	Glyph glyph.Key
	Finding
}

// Census is what the glyphs of a strike have in common. It is small: one entry
// for each class of strokes, alignment row and glyph.
type Census struct {
	Size     glyph.Points
	upem     int
	strokes  []strokeClass
	rows     []alignment
	advances map[glyph.Key]int
	linear   map[glyph.Key]float64 // advances in the outline, ems
}

// Set judges the cells of one strike beside each other: strokes of one width,
// ends on one alignment row, and the bearings of H, n and o.
func (j *Judge) Set(size glyph.Points, ppem glyph.PPEM, members []Member) (*Census, []SetFinding) {
	c := &Census{Size: size, advances: map[glyph.Key]int{}, linear: map[glyph.Key]float64{}}
	var found []SetFinding
	var strokes []classMember
	for _, m := range members {
		if m.Design == nil || m.Design.UPEM == 0 || m.Cell.Index == 0 && m.Cell.Code == glyph.NoCode {
			continue // .notdef is no letter
		}
		c.upem = m.Design.UPEM
		c.advances[m.Cell.Key] = m.Cell.Advance
		c.linear[m.Cell.Key] = float64(m.Design.Advance) / float64(m.Design.UPEM)
		if m.Cell.Bitmap.Empty() {
			continue
		}
		strokes = append(strokes, j.read(c, m, ppem)...)
		if f, ok := j.bearings(m, ppem); ok {
			found = append(found, f)
		}
	}
	c.classify(strokes)
	for i := range c.strokes {
		found = append(found, j.unequal(c, &c.strokes[i])...)
	}
	for i := range c.rows {
		found = append(found, j.unaligned(&c.rows[i])...)
	}
	for i := range found {
		found[i].inUnits(c.upem, ppem)
	}
	slices.SortStableFunc(found, func(a, b SetFinding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.Score, a.Score), cmp.Compare(a.Glyph, b.Glyph))
	})
	return c, found
}

// read takes in one drawing: it enters its ends at their alignment rows, and gives its strokes.
func (j *Judge) read(c *Census, m Member, ppem glyph.PPEM) []classMember {
	p := j.planeOf(&m.Cell.Bitmap)
	all := p.parts(&j.desk, 0)
	body := all.body()
	if body == nil {
		return nil
	}
	d := readOutline(m.Design, ppem, &p, &j.desk)
	company := companyOf(m.Cell.Code)
	if aligned(m.Cell.Code) {
		c.align(m, company, d, ppem, &p, body)
	}
	return p.strokesOf(m.Cell.Key, company, d, body)
}

// commonest is the value that most members have, the smaller of equals.
func commonest[M any](list []M, value func(M) int) (v, n int) {
	count := map[int]int{}
	for _, m := range list {
		count[value(m)]++
	}
	for w, k := range count {
		if k > n || k == n && w < v {
			v, n = w, k
		}
	}
	return v, n
}

// agreed says that so many members agree that the others stand out.
func agreed(most, of int) bool { return most >= leastOfKind && float64(most) >= clearShare*float64(of) }
