package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// subject is a face with its features, measured in strike after strike.
type subject struct {
	name   string
	face   face.PostScript
	keys   []glyph.Key
	glyphs []*features     // by place in keys
	shared []*face.Private // by place in keys
	bands  map[*face.Private][]band
}

func newSubject(name string, f face.PostScript, refs []glyph.Ref) (*subject, error) {
	s := &subject{name: name, face: f, bands: map[*face.Private][]band{}}
	for _, r := range refs {
		d, err := f.Drawing(r.Index)
		if err != nil {
			return nil, err
		}
		p := f.Private(r.Index)
		if s.bands[p] == nil {
			s.bands[p] = bandsOf(p)
		}
		s.keys = append(s.keys, r.Key)
		s.glyphs = append(s.glyphs, featuresOf(d, s.bands[p], r.Index))
		s.shared = append(s.shared, p)
	}
	return s, nil
}

// measure holds the cells of one strike, in the order of the subject's glyphs,
// against the properties. Bearings are those of the fitted outlines, where these
// are known.
func (s *subject) measure(strike glyph.Strike, cells []*glyph.Cell, reaches []reach) *score {
	m := &measuring{
		score: &score{strike: strike}, s: s, scale: unitsOf(strike.PPEM().Y) / float64(s.face.UPEM()),
		widths: map[widthKey]map[string]int{}, rows: map[rowKey]map[int][]rowSeen{},
	}
	for i, c := range cells {
		m.glyph(i, c)
		if f := m.s.glyphs[i]; reaches != nil && f.reach.lo < f.reach.hi {
			m.bearings(i, reaches[i])
		}
	}
	m.overStrike()
	return m.score
}

// where names a glyph of the face.
func (s *subject) where(i int) string { return s.name + "/" + string(s.keys[i]) }

type widthKey struct {
	private *face.Private
	axis    glyph.Axis
	units   float64
}

type rowKey struct {
	private *face.Private
	zone    int
}

type rowSeen struct {
	round bool
	where string
}

type measuring struct {
	*score
	s      *subject
	scale  float64
	widths map[widthKey]map[string]int // "px glyph" → count
	rows   map[rowKey]map[int][]rowSeen
	sum    float64 // of advances, px beyond the linear ones
	n      int
}

func (m *measuring) glyph(i int, c *glyph.Cell) {
	f, p := m.s.glyphs[i], m.s.shared[i]
	where := m.s.where(i)
	m.stems(f, p, c, where)
	m.alignment(f, p, c, where)
	m.serifs(f, c, where)
	if f.mirror && f.uprights > 0 && !c.Bitmap.Empty() {
		m.count(glyphsMirror, symmetric(&c.Bitmap), where)
	}
	linear := unitsOf(m.s.face.Advance(f.index)) * m.scale
	m.count(advances, math.Abs(float64(c.Advance)-linear) <= 1, where)
	m.sum += float64(c.Advance) - linear
	m.n++
}

func (m *measuring) bearings(i int, fitted reach) {
	asked := m.s.glyphs[i].reach
	off := max(math.Abs(fitted.lo-asked.lo*m.scale), math.Abs(fitted.hi-asked.hi*m.scale))
	m.count(bearings, off <= 1, m.s.where(i))
}

// clearOfEnds is how far from its ends a stretch is measured, in pixels: fitting
// may move the ends by less than one, and the middle of a pixel row is half off.
const clearOfEnds = 1.5

func (m *measuring) stems(f *features, p *face.Private, c *glyph.Cell, where string) {
	type key struct {
		axis  glyph.Axis
		units float64
	}
	equal := map[key][]int{}
	for i := range f.stems {
		s := &f.stems[i]
		if s.straight && s.reach*m.scale < clearOfEnds {
			continue
		}
		if s.clear*m.scale < clearOfEnds {
			continue
		}
		_, width := m.run(s, c, 0)
		if !s.straight { // the extreme of a round may have moved a pixel along
			_, before := m.run(s, c, -1)
			_, after := m.run(s, c, 1)
			m.count(nothingVanishes, max(width, before, after) > 0, where)
			continue
		}
		m.count(nothingVanishes, width > 0, where)
		k := key{s.axis, s.hi - s.lo}
		equal[k] = append(equal[k], width)
		for _, v := range snapsOf(p, s.axis) {
			if math.Abs(v-k.units) <= 0.5 {
				wk := widthKey{p, s.axis, v}
				if m.widths[wk] == nil {
					m.widths[wk] = map[string]int{}
				}
				m.widths[wk][fmt.Sprintf("%d %s", width, where)]++
			}
		}
	}
	for _, w := range equal {
		if len(w) > 1 {
			m.count(equalInGlyph, slices.Min(w) == slices.Max(w), where)
		}
	}
}

func snapsOf(p *face.Private, a glyph.Axis) []float64 {
	std, snaps := p.StdHW, p.StemSnapH
	if a == glyph.AxisX {
		std, snaps = p.StdVW, p.StemSnapV
	}
	all := append([]float64{std}, snaps...)
	slices.Sort(all)
	return slices.Compact(all)
}

// run finds the stem's ink across its middle: the run of pixels whose centre is
// nearest to where the stem's would be if it were only scaled; aside is how many
// pixels from the middle along the stem.
func (m *measuring) run(s *stemFeature, c *glyph.Cell, aside int) (first, length int) {
	line := int(math.Floor(s.across*m.scale)) + aside
	centre := (s.lo + s.hi) / 2 * m.scale
	reach := int((s.hi-s.lo)*m.scale) + 3
	best := math.Inf(1)
	for x := int(centre) - reach; x <= int(centre)+reach; x++ {
		if !ink(c, s.axis, x, line) || ink(c, s.axis, x-1, line) {
			continue
		}
		end := x
		for ink(c, s.axis, end, line) {
			end++
		}
		if off := math.Abs(float64(x+end)/2 - centre); off < best && off <= max(1, (s.hi-s.lo)*m.scale/2+1) {
			first, length, best = x, end-x, off
		}
	}
	return first, length
}

func ink(c *glyph.Cell, a glyph.Axis, x, line int) bool {
	if a == glyph.AxisY {
		return c.Bitmap.At(line, x) != 0
	}
	return c.Bitmap.At(x, line) != 0
}

func (m *measuring) alignment(f *features, p *face.Private, c *glyph.Cell, where string) {
	below := m.scale < suppressedBelow(p, m.s.bands[p])
	for i := range f.rows {
		r := &f.rows[i]
		if !r.round && r.reach*m.scale < clearOfEnds || r.round && (!below || r.chord(0.5/m.scale)*m.scale < 1) {
			continue
		}
		if r.clear*m.scale < 0.5 { // too little for a row of white
			m.bar(rowProperty(r.round), where)
			continue
		}
		row := m.edge(r, m.s.bands[p][r.zone].flat, c)
		k := rowKey{p, r.zone}
		if m.rows[k] == nil {
			m.rows[k] = map[int][]rowSeen{}
		}
		m.rows[k][row] = append(m.rows[k][row], rowSeen{r.round, where})
	}
}

func rowProperty(round bool) property {
	if round {
		return roundsOnTheRow
	}
	return flatsOnOneRow
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

// edge is the pixel row at which ink begins or ends, nearest to where the flat
// position would be if it were only scaled; a round may have its extreme a
// pixel to either side. Where there is none, the row is no row.
func (m *measuring) edge(r *rowFeature, flat float64, c *glyph.Cell) (row int) {
	x, want := int(math.Floor(r.x*m.scale)), int(math.Round(flat*m.scale))
	columns := []int{x}
	if r.round {
		columns = []int{x, x - 1, x + 1}
	}
	for _, off := range []int{0, 1, -1, 2, -2} {
		y := want + off
		for _, x := range columns {
			under, over := c.Bitmap.At(x, y-1) != 0, c.Bitmap.At(x, y) != 0
			if under != over && under == r.top {
				return y
			}
		}
	}
	return math.MinInt
}

func (m *measuring) serifs(f *features, c *glyph.Cell, where string) {
	for i := range f.serifs {
		s := &f.serifs[i]
		stem := &f.stems[s.stem]
		if stem.reach*m.scale < clearOfEnds {
			continue
		}
		first, length := m.run(stem, c, 0)
		if length == 0 {
			continue
		}
		reach, same := int(math.Ceil(s.reach*m.scale)), true
		// rows that the serif may stand in, fitted or not, and no accent
		from, to := int(math.Ceil(s.bottom*m.scale-1)), int(math.Floor(s.top*m.scale))
		for y := from; y <= to; y++ {
			same = same && outward(c, first-1, y, -1, reach) == outward(c, first+length, y, 1, reach)
		}
		m.count(serifsMirror, same, where)
	}
}

// outward counts ink from x on in a direction, at most reach pixels.
func outward(c *glyph.Cell, x, y, step, reach int) int {
	n := 0
	for n < reach && c.Bitmap.At(x+n*step, y) != 0 {
		n++
	}
	return n
}

// symmetric compares the halves of every row. A row of one pixel beside the
// middle of an even width is the tip that dropout control keeps: on one side,
// the left (rule 3).
func symmetric(b *glyph.Bitmap) bool {
	for y := b.Bottom; y < b.Top(); y++ {
		if b.Width%2 == 0 && inkOf(b, y) == 1 && b.At(b.Left+b.Width/2-1, y) != 0 {
			continue
		}
		for i := range b.Width / 2 {
			if b.At(b.Left+i, y) != b.At(b.Right()-1-i, y) {
				return false
			}
		}
	}
	return true
}

// inkOf counts the ink of a row.
func inkOf(b *glyph.Bitmap, y int) (n int) {
	for x := b.Left; x < b.Right(); x++ {
		if b.At(x, y) != 0 {
			n++
		}
	}
	return n
}

// overStrike judges what only the whole strike tells: the width that most
// stems of a StemSnap value have, the row that most flats of a zone have, or most of
// its rounds where no flat was measured.
func (m *measuring) overStrike() {
	for _, seen := range m.widths {
		byWidth := map[string]int{}
		for k, n := range seen {
			w, _, _ := strings.Cut(k, " ")
			byWidth[w] += n
		}
		mode := most(byWidth)
		for k, n := range seen {
			w, where, _ := strings.Cut(k, " ")
			for range n {
				m.count(equalInStrike, w == mode, where)
			}
		}
	}
	for _, rows := range m.rows {
		flats, rounds := map[int]int{}, map[int]int{}
		for row, seen := range rows {
			for _, s := range seen {
				if s.round {
					rounds[row]++
				} else {
					flats[row]++
				}
			}
		}
		mode := most(flats)
		if len(flats) == 0 { // as at the top of many an italic
			mode = most(rounds)
		}
		for row, seen := range rows {
			for _, s := range seen {
				m.count(rowProperty(s.round), row == mode, s.where)
			}
		}
	}
	m.drift = math.Abs(m.sum) / float64(max(1, m.n))
}

func most[K interface{ ~int | ~string }](counts map[K]int) (best K) {
	n := -1
	for k, v := range counts {
		if v > n || v == n && k < best {
			best, n = k, v
		}
	}
	return best
}
