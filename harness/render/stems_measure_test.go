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
	byCode map[rune]int    // place in keys
	glyphs []*features     // by place in keys
	shared []*face.Private // by place in keys
	bands  map[*face.Private][]band
}

func newSubject(name string, f face.PostScript, refs []glyph.Ref) (*subject, error) {
	s := &subject{name: name, face: f, bands: map[*face.Private][]band{}, byCode: map[rune]int{}}
	for _, r := range refs {
		d, err := f.Drawing(r.Index)
		if err != nil {
			return nil, err
		}
		p := f.Private(r.Index)
		if s.bands[p] == nil {
			s.bands[p] = bandsOf(p)
		}
		s.byCode[r.Code] = len(s.keys)
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
		widths: map[widthKey]map[string]int{}, rows: map[rowKey][]rowSeen{},
	}
	for i, c := range cells {
		m.glyph(i, c)
		if f := m.s.glyphs[i]; reaches != nil && f.reach.lo < f.reach.hi {
			m.bearings(i, reaches[i])
		}
	}
	m.overStrike()
	m.line(cells)
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

type measuring struct {
	*score
	s      *subject
	scale  float64
	widths map[widthKey]map[string]int // "px glyph" → count
	rows   map[rowKey][]rowSeen
}

func (m *measuring) glyph(i int, c *glyph.Cell) {
	f, p := m.s.glyphs[i], m.s.shared[i]
	where := m.s.where(i)
	m.stems(f, p, c, where)
	m.alignment(f, p, c, where)
	m.serifs(f, c, where)
	switch {
	case !f.mirror || f.uprights == 0 || c.Bitmap.Empty():
	case f.oddAndEven(p, m.scale):
		m.bar(oddAndEven, where)
	default:
		m.count(glyphsMirror, symmetric(&c.Bitmap), where)
	}
	for range f.zeroWidths {
		m.bar(zeroWidth, where)
	}
	linear := unitsOf(m.s.face.Advance(f.index)) * m.scale
	m.count(advances, math.Abs(float64(c.Advance)-linear) <= 0.5+rounded, where)
}

// lineOfText has letters of every kind, 65 with its spaces.
const lineOfText = "Larkmoor Transit: quick jets vex a dozen humble fog-wrapped buoys"

// line sets a line of text by the widths in thousandths of the em that goldens
// keep, and by advances in whole pixels, each rounded from its linear value; these
// drift, by half a pixel a letter at most.
func (m *measuring) line(cells []*glyph.Cell) {
	var byDesign, byPixels float64
	found := 0
	for _, r := range lineOfText {
		i, ok := m.s.byCode[r]
		if !ok {
			continue
		}
		found++
		linear := unitsOf(m.s.face.Advance(m.s.glyphs[i].index)) * m.scale
		byDesign += float64(cells[i].SWidth)/1000*m.scale*float64(m.s.face.UPEM()) - linear
		byPixels += float64(cells[i].Advance) - linear
	}
	m.drift = math.Abs(byPixels)
	if found > len(lineOfText)/2 { // else a face of symbols
		m.count(lines, math.Abs(byDesign) <= 1, m.s.name)
	}
}

func (m *measuring) bearings(i int, fitted reach) {
	if m.s.glyphs[i].crowded(m.s.shared[i], glyph.AxisX, m.scale) {
		m.bar(crowded, m.s.where(i))
		return
	}
	asked := m.s.glyphs[i].reach
	off := max(math.Abs(fitted.lo-asked.lo*m.scale), math.Abs(fitted.hi-asked.hi*m.scale))
	m.count(bearings, off <= 1+rounded, m.s.where(i))
}

// rounded is by how much a position asked for and one given are off the true ones:
// both are rounded to a 64th of a pixel.
const rounded = 1.0 / 64

// clearOfEnds is how far from its ends a stretch is measured, in pixels: fitting
// may move the ends by less than one, and the middle of a pixel row is half off.
const clearOfEnds = 1.5

func (m *measuring) stems(f *features, p *face.Private, c *glyph.Cell, where string) {
	tight := [...]bool{glyph.AxisX: f.crowded(p, glyph.AxisX, m.scale), glyph.AxisY: f.crowded(p, glyph.AxisY, m.scale)}
	type key struct {
		axis  glyph.Axis
		units float64
	}
	equal := map[key][]int{}
	below := m.belowBlueScale(p)
	for i := range f.stems {
		s := &f.stems[i]
		if s.straight && s.reach*m.scale < clearOfEnds || s.clear*m.scale < clearOfEnds || s.stub() || s.beset(f.flat, m.scale) {
			continue
		}
		seen := s
		if below {
			seen = s.suppressed()
		}
		_, width := m.run(seen, c, 0)
		if tight[s.axis] {
			m.bar(crowded, where)
			if width == 0 { // it stands further off than is looked
				continue
			}
		} else if !s.straight { // the extreme of a round may have moved a pixel along
			stands := false
			for aside := -1; aside <= 1 && !stands; aside++ {
				_, width = m.run(seen, c, aside)
				stands = width > 0 || m.edgeStands(seen, c, aside)
			}
			m.count(nothingVanishes, stands, where)
		} else {
			m.count(nothingVanishes, width > 0, where)
		}
		if !s.straight {
			continue
		}
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

// edgeStands says that ink begins within a pixel of where a stem does, or ends
// within a pixel of where it ends. With the other edge a round may run into a stroke
// less than a pixel from it, as the ball of a comma does into the tail: it has not
// vanished.
func (m *measuring) edgeStands(s *stemFeature, c *glyph.Cell, aside int) bool {
	line := int(math.Floor(s.across*m.scale)) + aside
	lo, hi := s.lo*m.scale, s.hi*m.scale
	for x := int(math.Ceil(lo - 1)); x <= int(math.Floor(hi+1)); x++ {
		before, here := ink(c, s.axis, x-1, line), ink(c, s.axis, x, line)
		if here && !before && math.Abs(float64(x)-lo) <= 1 || before && !here && math.Abs(float64(x)-hi) <= 1 {
			return true
		}
	}
	return false
}

func ink(c *glyph.Cell, a glyph.Axis, x, line int) bool {
	if a == glyph.AxisY {
		return c.Bitmap.At(line, x) != 0
	}
	return c.Bitmap.At(x, line) != 0
}

// overStrike judges what only the whole strike tells: the width that most stems of a
// StemSnap value have, and the rows of the zones.
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
	for k, seen := range m.rows {
		m.judgeRows(m.s.bands[k.private][k.zone].flat, seen)
	}
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
