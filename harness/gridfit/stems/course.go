package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// course takes positions of one axis from font units to device pixels where a
// set of stems is in force: exactly on their edges, linearly inside a stem, and
// between stems and outside them as between describes.
type course struct {
	edges []edge // rising in both from and to
	scale scale
	shift fixed.Int26_6
}

type edge struct {
	from, to fixed.Int26_6 // font units, device pixels
	opens    bool          // from here to the next edge is the inside of a stem
}

// start empties the course for an axis.
func (c *course) start(a *axis) { c.edges, c.scale, c.shift = c.edges[:0], a.scale, a.shift }

// add puts a stem into the course unless it contradicts one that is there:
// overlaps it, or reverses the order. An edge that no hint declares may stand
// inside a stem, as a flat serif does beside a round.
func (c *course) add(s *stem) {
	if !s.crossed && c.insert(s) {
		s.used = true
	}
}

// insert says that the stem went in; one that is there already does not.
func (c *course) insert(s *stem) bool {
	i := 0 // a search by halves would cost more: there are few
	for i < len(c.edges) && c.edges[i].from < s.lo {
		i++
	}
	found := i < len(c.edges) && c.edges[i].from == s.lo
	if s.lo == s.hi {
		return found || (s.implied || !c.inside(i)) && c.put(i, edge{s.lo, s.low, c.inside(i)})
	}
	j := i // the first edge above lo
	if found {
		if j++; c.edges[i].opens || c.edges[i].to != s.low {
			return false
		}
	} else if c.inside(i) {
		return false
	}
	if j < len(c.edges) && (c.edges[j].from < s.hi || c.edges[j].from == s.hi && c.edges[j].to != s.high()) {
		return false
	}
	if i > 0 && c.edges[i-1].to > s.low || j < len(c.edges) && c.edges[j].to < s.high() {
		return false
	}
	if found {
		c.edges[i].opens = true
	} else {
		c.edges = slices.Insert(c.edges, i, edge{s.lo, s.low, true})
		j++
	}
	if j == len(c.edges) || c.edges[j].from != s.hi {
		c.edges = slices.Insert(c.edges, j, edge{s.hi, s.high(), false})
	}
	return true
}

// meets says that a stem has an edge in common with one in the course.
func (c *course) meets(s *stem) bool {
	return slices.ContainsFunc(c.edges, func(e edge) bool { return e.from == s.lo || e.from == s.hi })
}

// inside says that the place before edge i lies inside a stem.
func (c *course) inside(i int) bool { return i > 0 && c.edges[i-1].opens }

func (c *course) put(i int, e edge) bool {
	if i > 0 && c.edges[i-1].to > e.to || i < len(c.edges) && c.edges[i].to < e.to {
		return false
	}
	c.edges = slices.Insert(c.edges, i, e)
	return true
}

// hold is what a course has at the position of a point that stands on an edge:
// the edge, and the ones that end the stems below and above it, or itself.
type hold struct {
	on        bool
	low, high edge
}

func (c *course) holdAt(v fixed.Int26_6) (h hold) {
	for i, e := range c.edges {
		if e.from != v {
			continue
		}
		h = hold{true, e, e}
		if c.inside(i) {
			h.low = c.edges[i-1]
		}
		if e.opens && i+1 < len(c.edges) {
			h.high = c.edges[i+1]
		}
	}
	return h
}

// at is where a position goes.
func (c *course) at(v fixed.Int26_6) fixed.Int26_6 {
	n := len(c.edges)
	if n == 0 {
		return c.scale.of(v) + c.shift
	}
	i := 0
	for i < n && c.edges[i].from <= v {
		i++
	}
	switch {
	case i == 0:
		return c.edges[0].to - c.scale.of(c.edges[0].from-v)
	case i == n || c.edges[i-1].from == v:
		return c.edges[i-1].to + c.scale.of(v-c.edges[i-1].from)
	}
	a, b := c.edges[i-1], c.edges[i]
	if a.opens {
		return a.to + share(b.to-a.to, v-a.from, b.from-a.from)
	}
	return c.between(a, b, v)
}

// between places what lies in a gap. What is near an edge keeps its scaled
// distance from that edge, so that the serifs at both sides of a stem, and the
// brackets above and below a bar, stay mirror images; the middle takes up what
// fitting added to the gap or took from it. The middle is at least a quarter
// of the gap, and grows until it is neither stretched nor squeezed more than
// fourfold.
func (c *course) between(a, b edge, v fixed.Int26_6) fixed.Int26_6 {
	natural, fitted := c.scale.of(b.from-a.from), b.to-a.to
	middle := max(natural/4, (natural-fitted)*4/3, (fitted-natural)/3)
	rim := max(0, (natural-middle)/2)
	if natural == 0 {
		return a.to
	}
	up, down := c.scale.of(v-a.from), c.scale.of(b.from-v)
	switch {
	case up <= rim && rim > 0:
		return a.to + up
	case down <= rim && rim > 0:
		return b.to - down
	}
	return a.to + rim + share(fitted-2*rim, up-rim, natural-2*rim)
}

// share is length × part ÷ all, rounded half away from zero; all is positive.
func share(length, part, all fixed.Int26_6) fixed.Int26_6 {
	if all <= 0 {
		return 0
	}
	p := int64(length) * int64(part)
	if p < 0 {
		return -fixed.Int26_6((-p + int64(all)/2) / int64(all))
	}
	return fixed.Int26_6((p + int64(all)/2) / int64(all))
}

// chart draws up the course of the i-th span of a contour. In the order of
// what counts most: of the hints in force those that hold a flat position, then
// all but those of other contours (their edges are both on one, and not on this), edge
// hints last; hints of this contour in force elsewhere on it, the nearest first; hints of
// other contours. What contradicts none of these is added to carry points along that lie
// between a stem in force and one that was, as in the arch of an n drawn under several
// sets of hints: what is in force elsewhere on the contour, stems of contours
// that overlap it, as a stem's do its serif where they are drawn apart, or of no
// single contour, as the stem of a D; and edges that no hint declares.
func (a *axis) chart(c *course, spans []face.Span, i int, points stretch) {
	c.start(a)
	add := func(hints []int, which func(*stem) bool) {
		a.eachHint(hints, func(s *stem) {
			if which(s) && !a.contradicts(s, points) {
				c.add(s)
			}
		})
	}
	if i < len(spans) {
		add(spans[i].Hints, a.flat)
		own := func(s *stem) bool { return s.touches || s.home.empty() }
		add(spans[i].Hints, func(s *stem) bool { return twoEdged(s) && own(s) })
		add(spans[i].Hints, own)
		eachNear(spans, i, func(hints []int) {
			add(hints, func(s *stem) bool { return s.touches })
		})
		for k := range a.stems {
			if s := &a.stems[k]; s.implied && s.touches {
				c.add(s)
			}
		}
		add(spans[i].Hints, twoEdged)
		add(spans[i].Hints, every)
	}
	apart := func(s *stem) bool { return s.touches || !c.meets(s) }
	eachNear(spans, i, func(hints []int) { add(hints, apart) })
	for k := range a.stems {
		if s := &a.stems[k]; s.implied && s.lo == s.hi || (s.zone >= 0 || s.home.empty() || s.home.overlaps(a.contour)) && apart(s) {
			c.add(s)
		}
	}
}

// maxNear bounds how many spans before and after carry points of one along.
const maxNear = 16

// eachNear goes through the hints in force before and after a span of a contour, the
// nearest first.
func eachNear(spans []face.Span, i int, do func(hints []int)) {
	n := len(spans)
	for off := 1; off <= min(n/2, maxNear); off++ {
		do(spans[(i-off+n)%n].Hints)
		do(spans[(i+off)%n].Hints)
	}
}

func every(*stem) bool { return true }

// twoEdged says that a stem is no edge hint.
func twoEdged(s *stem) bool { return s.ghost == face.NoGhost }

// eachHint goes through the stems of some hints.
func (a *axis) eachHint(hints []int, do func(*stem)) {
	for _, h := range hints[:min(len(hints), 2*maxStems)] {
		if h >= 0 && h < len(a.index) && a.index[h] >= 0 {
			do(&a.stems[a.index[h]])
		}
	}
}

// flat says that an edge of a stem, no edge hint, is a zone's flat position itself.
func (a *axis) flat(s *stem) bool {
	if s.zone < 0 || s.ghost != face.NoGhost {
		return false
	}
	z := &a.zones[s.zone]
	return z.top && s.hi == z.flat || !z.top && s.lo == z.flat
}
