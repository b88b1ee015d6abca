package stems

import (
	"math"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// maxStems bounds the different stems of one glyph and axis, against damaged and
// malicious fonts; Type 2 allows 96 on both axes together.
const maxStems = 192

// maxHints bounds how many hints of a glyph are looked at.
const maxHints = 4 * maxStems

// axis fits positions along X or Y for one face and size. The stems are those
// of the glyph in hand.
type axis struct {
	axis   glyph.Axis
	scale  scale
	widths widths
	zones  []zone // Y only
	fitted bool   // false: positions are only scaled

	blueScale int64 // Y only, in parts of blueScaleOne: as far as it may go

	shift       fixed.Int26_6   // device pixels: sideways placement of the whole glyph
	stems       []stem          // each once, in order of declaration, implied ones last
	undeclared  []stem          // upright ones that the drawing shows and no hint declares
	groups      [][]int         // counters: stems in rising order, declared ones first
	declared    int             // how many of the groups are
	led         []int           // see misleads
	left        []LeftOut       // declared stems that are none of stems
	found       []sheer         // of the drawing
	order       []int64         // of these: place, and index below it
	sheer       []sheer         // one a place, sorted
	boxes       []box           // of the drawing's contours
	extremes    []extremeAt     // Y only, of the drawing
	edges       []*extremeAt    // memory of the bars' tops and bottoms
	tracks      []track         // of the drawing's contours
	coordinates []fixed.Int26_6 // of all tracks
	contour     box             // of the contour in hand
	index       []int           // from the drawing's hints to stems; -1 for those left out
}

func newAxis(p *face.Private, a glyph.Axis, s scale, fitted bool) axis {
	x := axis{axis: a, scale: s, widths: newWidths(p, a, s), fitted: fitted}
	if a == glyph.AxisY {
		x.zones = newZones(p, s)
		x.blueScale = blueScale(p.BlueScale, x.zones)
	}
	return x
}

// take lists the stems of a drawing on this axis; a drawing declares none twice.
func (a *axis) take(d *face.Drawing) {
	a.stems, a.groups, a.index, a.left, a.shift = a.stems[:0], a.groups[:0], a.index[:0], a.left[:0], 0
	hints := d.Hints[:min(len(d.Hints), maxHints)]
	for i := range hints {
		at := -1
		if a.fitted && hints[i].Axis == a.axis {
			at = a.add(stemOf(&hints[i]), hints)
		}
		a.index = append(a.index, at)
	}
	if a.axis == glyph.AxisX {
		a.noteSpans(d)
	}
	for _, g := range d.Counters {
		a.addGroup(g)
	}
	a.takeUndeclared()
	a.findPattern()
	a.declared = len(a.groups)
}

// noteSpans notes where stems are in force, and where points on their edges are there.
func (a *axis) noteSpans(d *face.Drawing) {
	for i := range d.Spans[:min(len(d.Spans), maxSpans)] {
		points := spanPoints(d, i)
		a.eachHint(d.Spans[i].Hints, func(s *stem) {
			s.spans.add(i)
			for k := range points {
				if x := points[k].X; x == s.lo || x == s.hi {
					s.reach = s.reach.union(boxOf(points[k : k+1]))
				}
			}
		})
	}
}

// spanPoints are the points that a drawing's span draws.
func spanPoints(d *face.Drawing, i int) []glyph.Point {
	points, end := d.Outline.Points, len(d.Outline.Points)
	if i+1 < len(d.Spans) {
		end = min(max(0, d.Spans[i+1].Point), end)
	}
	return points[min(max(0, d.Spans[i].Point), end):end]
}

// add gives the index of a stem, -1 where it is left out.
func (a *axis) add(s stem, hints []face.Hint) int {
	const far = maxUnits * 64
	switch {
	case s.lo < -far || s.hi > far || len(a.stems) == maxStems:
		return a.leave(&s, OutOfRange)
	case a.inverted(&s):
		return a.leave(&s, NotShown)
	case a.axis == glyph.AxisY && (s.ghost != face.NoGhost || a.zoned(&s)):
		// an edge of its own, or a zone, speaks for it
	case !a.shown(&s):
		return a.leave(&s, NotShown)
	case a.axis == glyph.AxisX && a.white(&s):
		return a.leave(&s, White)
	case a.serif(&s, hints):
		return a.leave(&s, Serif)
	}
	a.stems = append(a.stems, s)
	return len(a.stems) - 1
}

// leave notes that a declared stem is left out.
func (a *axis) leave(s *stem, why Reason) int {
	if len(a.left) < maxStems {
		a.left = append(a.left, LeftOut{a.axis, s.ghost, s.lo, s.hi, why})
	}
	return -1
}

// place puts every stem on the grid, in the order that the package states.
func (a *axis) place() {
	for i := range a.stems {
		s := &a.stems[i]
		s.placed, s.used, s.by = false, false, ByOrder
		if s.ghost == face.NoGhost {
			s.width = a.widths.fit(a.breadth(s))
		}
		if s.across > 0 {
			s.width = s.across
		}
		if s.pitch > 0 && s.width > a.scale.of(s.pitch) {
			s.width = max(pixel, whole(a.scale.of(s.hi-s.lo)))
		}
		a.pin(s)
	}
	a.yield()
	a.open()
	a.joinAll()
	for i, g := range a.groups {
		a.equalCounters(g, i < a.declared)
	}
	a.settleAll(twoEdged)
	a.settleAll(every)
	a.relax()
	a.slim()
	a.makeRoom()
	a.endWithWider()
	for i := range a.stems {
		a.stems[i].crossed = a.crosses(&a.stems[i])
	}
}

// settleAll places stems in order of declaration, and after each what shares its edge.
func (a *axis) settleAll(which func(*stem) bool) {
	for i := range a.stems {
		if s := &a.stems[i]; !s.placed && which(s) {
			a.joinAll()
			if !s.placed {
				a.settle(s)
			}
		}
	}
}

// relax settles stems again, now that all have their neighbours, until none
// moves: one that was placed early may have left too little for a counter.
func (a *axis) relax() {
	for range 4 {
		moved := false
		for i := range a.stems {
			if s := &a.stems[i]; s.by == ByOrder && !a.shares(s) {
				before := s.low
				a.settle(s)
				moved = moved || s.low != before
			}
		}
		if !moved {
			return
		}
	}
}

func (s *stem) put(low fixed.Int26_6, by Rule) { s.low, s.by, s.placed = low, by, true }

// clear says that a stem placed at low keeps its counters open.
func (a *axis) clear(s *stem, low fixed.Int26_6) bool {
	near := a.neighbours(s, anywhere)
	return a.closes(s, low, near) == 0 && a.closes(s, low, a.facing(s, near)) == 0
}

// neighbours are the nearest placed stems wholly below and above.
type neighbours struct{ below, above *stem }

// neighbours finds those of the ones that are something to a stem.
func (a *axis) neighbours(s *stem, to func(lower, upper *stem) bool) (n neighbours) {
	for i := range a.stems {
		o := &a.stems[i]
		switch {
		case !o.placed || o == s:
		case o.below(s) && (n.below == nil || o.hi > n.below.hi) && to(o, s):
			n.below = o
		case s.below(o) && (n.above == nil || o.lo < n.above.lo) && to(s, o):
			n.above = o
		}
	}
	return n
}

func anywhere(_, _ *stem) bool { return true }

// facing are those beside a stem that leave it the least room; mostly they are the nearest.
func (a *axis) facing(s *stem, near neighbours) (n neighbours) {
	floor, ceiling := fixed.Int26_6(math.MinInt32/2), fixed.Int26_6(math.MaxInt32/2)
	look := func(o *stem) {
		switch {
		case o == nil || o == s || !o.placed:
		case o.below(s) && o.high()+pixel > floor && a.beside(o, s):
			if f := o.high() + a.leastGap(o, s); f > floor {
				n.below, floor = o, f
			}
		case s.below(o) && o.low-pixel < ceiling && a.beside(s, o):
			if c := o.low - a.leastGap(s, o); c < ceiling {
				n.above, ceiling = o, c
			}
		}
	}
	look(near.below)
	look(near.above)
	for i := range a.stems {
		look(&a.stems[i])
	}
	return n
}

// inkShows is how much ink, in device pixels, an edge has between it and a bar so that it keeps
// a row for it: the tips of a breve would be drawn as flat as a macron.
const inkShows = pixel * 3 / 4

// leastGap is the least distance that two stems keep: a pixel, so that the
// counter between them stays open, unless it is under half a pixel. Under a top edge
// and over a bottom edge there is ink, and no counter. Stems that are not beside each
// other have none: bars still stand in order, and so do upright stems in force together;
// others may even overlap.
func (a *axis) leastGap(lower, upper *stem) fixed.Int26_6 {
	switch {
	case a.axis == glyph.AxisX && !lower.together(upper) && !a.beside(lower, upper):
		return -maxUnits
	case lower.ghost == face.GhostBottom || upper.ghost == face.GhostTop:
		if a.scale.of(upper.lo-lower.hi) < inkShows {
			return 0
		}
		return pixel
	case a.scale.of(upper.lo-lower.hi) < pixel/2:
		return 0
	case !a.beside(lower, upper):
		return 0
	}
	return pixel
}

// wish is where a stem's lower edge would stand if its centre were only scaled.
func (a *axis) wish(s *stem) fixed.Int26_6 {
	return (a.scale.of(s.lo+s.hi)-s.width)/2 + a.shift
}

// apart is the distance of two stems' lower edges that keeps that of their centres.
func (a *axis) apart(lower, upper *stem) fixed.Int26_6 {
	return (a.scale.of(upper.lo+upper.hi-lower.lo-lower.hi) + lower.width - upper.width) / 2
}
