package render

import (
	"math"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// rowFeature is a flat or round top or bottom in an alignment zone.
type rowFeature struct {
	zone        int
	others      []int // every zone of its kind that holds it
	top, round  bool
	x, y, reach float64
	contour     []point // flattened
	from, to    point   // the ends of a flat, or twice the extreme of a round
	clear       float64 // white beyond a flat, to the next ink above a top or under a bottom
}

// inkAt says that a place lies inside the outline, by the non-zero rule.
func inkAt(flat [][]point, x, y float64) bool {
	wind := 0
	for _, c := range flat {
		for i, p := range c {
			q := c[(i+1)%len(c)]
			if (p.x < x) == (q.x < x) || p.y+(q.y-p.y)*(x-p.x)/(q.x-p.x) <= y {
				continue
			}
			if p.x < q.x {
				wind++
			} else {
				wind--
			}
		}
	}
	return wind != 0
}

// band is an alignment zone in font units; BlueFuzz widens it at both ends (Type 1 book, 5.8).
type band struct {
	top        bool
	flat, over float64
	fuzz       float64
}

func bandsOf(p *face.Private) (all []band) {
	pairs := func(v []float64, firstIsBottom, top bool) {
		for i := 0; i+1 < len(v); i += 2 {
			if top && !(firstIsBottom && i == 0) {
				all = append(all, band{true, v[i], v[i+1], p.BlueFuzz})
			} else {
				all = append(all, band{false, v[i+1], v[i], p.BlueFuzz})
			}
		}
	}
	pairs(p.BlueValues, true, true)
	pairs(p.OtherBlues, false, false)
	return all
}

// findRows finds flats on the flat position of a zone and rounds within it, as
// far as ink begins or ends there.
func (f *features) findRows(c, curve []point, zones []band) {
	flat := f.flat
	for i := range c {
		p, q, o := c[i], c[(i+1)%len(c)], c[(i+len(c)-1)%len(c)]
		if !p.on || p.y != q.y || p.x == q.x {
			continue
		}
		straight := q.on
		round := !q.on && !o.on && o.y == p.y && (q.x-p.x)*(o.x-p.x) < 0
		x := p.x + 1.0/128
		if straight {
			x = (p.x + q.x) / 2
		}
		top := inkAt(flat, x, p.y-1)
		if !straight && !round || top == inkAt(flat, x, p.y+1) {
			continue
		}
		first := len(f.rows)
		for z, b := range zones {
			beyond := (p.y - b.flat) * sign(b.top)
			within := beyond >= 0 && beyond <= math.Abs(b.over-b.flat)
			switch {
			case b.top != top:
			case straight && p.y == b.flat:
				r := rowFeature{zone: z, top: top, x: x, y: p.y, reach: math.Abs(p.x-q.x) / 2, contour: curve, from: p, to: q}
				r.clearest(flat)
				f.rows = append(f.rows, r)
			case round && within && outermost(c, i, top):
				f.rows = append(f.rows, rowFeature{zone: z, top: top, round: true, x: p.x, y: p.y, contour: curve, from: p, to: p})
			}
		}
		for k := first; k < len(f.rows); k++ {
			f.rows[k].others = holders(zones, top, p.y)
		}
	}
}

// holders are the zones of a kind that hold an edge, BlueFuzz included.
func holders(zones []band, top bool, y float64) (all []int) {
	for z, b := range zones {
		if b.top == top && y >= min(b.flat, b.over)-b.fuzz && y <= max(b.flat, b.over)+b.fuzz {
			all = append(all, z)
		}
	}
	return all
}

// findZone looks for the alignment zone that holds an edge of a bar.
func (s *stemFeature) findZone(zones []band) {
	if s.axis != glyph.AxisY {
		return
	}
	if low := holders(zones, false, s.lo); len(low) > 0 {
		s.beyond = s.lo - zones[low[0]].flat
	} else if high := holders(zones, true, s.hi); len(high) > 0 {
		s.beyond = s.hi - zones[high[0]].flat
	}
}

// suppressed is a bar as it is drawn below BlueScale: an edge in the overshoot of a
// zone stands where flats do.
func (s stemFeature) suppressed() *stemFeature {
	s.lo, s.hi = s.lo-s.beyond, s.hi-s.beyond
	return &s
}

// outermost says that a round point is an extreme of the curve, not a dent.
func outermost(c []point, i int, top bool) bool {
	before, after := c[(i+len(c)-2)%len(c)], c[(i+2)%len(c)]
	d := sign(top)
	return (before.y-c[i].y)*d <= 0 && (after.y-c[i].y)*d <= 0
}

func sign(positive bool) float64 {
	if positive {
		return 1
	}
	return -1
}

func (m *measuring) alignment(f *features, p *face.Private, c *glyph.Cell, where string) {
	below := m.belowBlueScale(p)
	for i := range f.rows {
		r := &f.rows[i]
		if r.round && !below || !r.shows(m.scale) {
			continue
		}
		switch {
		case !r.open(f.flat, m.scale): // too little for a row of white
			m.bar(inkOnTheRow, where)
			continue
		case contested(r.others, m.s.bands[p], m.scale):
			m.bar(twoZones, where)
			continue
		}
		k := rowKey{p, r.zone}
		m.rows[k] = append(m.rows[k], rowSeen{r, c, where})
	}
}

func rowProperty(round bool) property {
	if round {
		return roundsOnTheRow
	}
	return flatsOnOneRow
}

func (m *measuring) belowBlueScale(p *face.Private) bool {
	return m.scale < suppressedBelow(p, m.s.bands[p])
}

// suppressedBelow is BlueScale, in pixels per font unit, or what the book lets it
// be (Type 1 book, 5.6): times the tallest zone it must stay under a pixel.
func suppressedBelow(p *face.Private, bands []band) float64 {
	least := p.BlueScale
	for _, b := range bands {
		if h := math.Abs(b.over - b.flat); h > 0 {
			least = min(least, 1/h)
		}
	}
	return least
}

// judgeRows holds what stands in one zone against the row that most of its flats
// have, or most of its rounds where no flat was measured, as at the top of many an
// italic. A round may stand a pixel to either side of its extreme, or of where it shows.
func (m *measuring) judgeRows(flat float64, seen []rowSeen) {
	want := int(math.Round(flat * m.scale))
	byRow := [2]map[int]int{{}, {}} // of flats, of rounds
	for _, s := range seen {
		if row, ok := edgeIn(s.cell, s.column(m.scale), want, s.top); ok {
			byRow[rowProperty(s.round)-flatsOnOneRow][row]++
		}
	}
	mode := want
	if len(byRow[0]) > 0 {
		mode = most(byRow[0])
	} else if len(byRow[1]) > 0 {
		mode = most(byRow[1])
	}
	for _, s := range seen {
		x := s.column(m.scale)
		stands := edgeAt(s.cell, x, mode, s.top)
		if s.round {
			middle := int(math.Floor(s.middle(m.scale) * m.scale))
			for _, x := range []int{x - 1, x + 1, middle - 1, middle, middle + 1} {
				stands = stands || edgeAt(s.cell, x, mode, s.top)
			}
		}
		m.count(rowProperty(s.round), stands, s.where)
	}
}

type rowSeen struct {
	*rowFeature
	cell  *glyph.Cell
	where string
}

func (r *rowFeature) column(scale float64) int { return int(math.Floor(r.x * scale)) }

// edgeIn is the row of a column at which ink begins or ends, nearest to the one
// where the flat position would be if it were only scaled, if there is one.
func edgeIn(c *glyph.Cell, x, want int, top bool) (row int, ok bool) {
	for _, off := range []int{0, 1, -1, 2, -2} {
		if edgeAt(c, x, want+off, top) {
			return want + off, true
		}
	}
	return 0, false
}

// edgeAt says that ink ends, or for a bottom begins, at a row of a column.
func edgeAt(c *glyph.Cell, x, y int, top bool) bool {
	under, over := c.Bitmap.At(x, y-1) != 0, c.Bitmap.At(x, y) != 0
	return under != over && under == top
}
