package diff

import (
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// drawnEdge is a straight upright or lying piece of an outline, in pixels in
// the plane's coordinates. Fore says that ink lies beyond it, where at grows.
type drawnEdge struct {
	bar, fore  bool
	at, lo, hi float64
}

// stroke is a pair of opposite edges of the outline, ink between them: a stem
// or a bar as its maker drew it, unhinted.
type stroke struct {
	bar              bool
	lo, hi, from, to float64 // pixels, in the plane's coordinates
	width            float64 // font units
	own              float64 // pixels of the longest of the parts that lie in line
}

// piece is a part of an outline between two of its points, in pixels in the
// plane's coordinates, and what a change beside it is called.
type piece struct {
	x0, y0, x1, y1 float64
	kind           Kind // Edge, Diagonal or Round
}

// drawn is what judgement takes from the outline.
type drawn struct {
	pieces              []piece
	strokes             []stroke
	top, bottom         float64 // highest and lowest point, pixels
	topFlat, bottomFlat float64 // how far within them the nearest flat edge lies
	em                  float64 // pixels
}

// readOutline finds pairs of opposite edges and the shape of both ends.
func readOutline(d *glyph.Design, ppem glyph.PPEM, p *plane, on *desk) *drawn {
	if d == nil || d.UPEM == 0 || ppem.X == 0 || ppem.Y == 0 {
		return nil
	}
	sx, sy := float64(ppem.X)/64/64/float64(d.UPEM), float64(ppem.Y)/64/64/float64(d.UPEM)
	at := func(q glyph.Point) (x, y float64) {
		return float64(q.X)*sx - float64(p.x0), float64(q.Y)*sy - float64(p.y0)
	}
	out := &drawn{top: math.Inf(-1), bottom: math.Inf(1), topFlat: math.Inf(1), bottomFlat: math.Inf(1)}
	out.em = float64(ppem.Y) / 64
	right := inkRight(&d.Outline)
	out.pieces = on.outline[:0]
	edges := on.edges[:0]
	start := 0
	for _, end := range d.Outline.Ends {
		ring := d.Outline.Points[start : end+1]
		start = end + 1
		if len(ring) < 3 {
			continue // no ink: a point that accents are placed by
		}
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			x0, y0 := at(a)
			x1, y1 := at(b)
			out.top, out.bottom = max(out.top, y0), min(out.bottom, y0)
			if a.Kind != glyph.OnCurve || b.Kind != glyph.OnCurve {
				out.pieces = append(out.pieces, piece{x0, y0, x1, y1, Round})
				continue
			}
			out.pieces = append(out.pieces, piece{x0, y0, x1, y1, Diagonal})
			dx, dy := x1-x0, y1-y0
			switch {
			case math.Abs(dx) <= straightSlope*math.Abs(dy):
				out.pieces[len(out.pieces)-1].kind = Edge
				edges = append(edges, drawnEdge{false, (dy > 0) == right, (x0 + x1) / 2, min(y0, y1), max(y0, y1)})
			case math.Abs(dy) <= straightSlope*math.Abs(dx):
				out.pieces[len(out.pieces)-1].kind = Edge
				edges = append(edges, drawnEdge{true, (dx < 0) == right, (y0 + y1) / 2, min(x0, x1), max(x0, x1)})
			}
		}
	}
	on.outline, on.edges = out.pieces, edges
	least := flatEm * out.em
	for _, e := range edges {
		switch {
		case !e.bar || e.hi-e.lo < least:
		case e.fore:
			out.bottomFlat = min(out.bottomFlat, e.at-out.bottom)
		default:
			out.topFlat = min(out.topFlat, out.top-e.at)
		}
	}
	for _, e := range edges {
		if s, ok := e.stroke(edges); ok {
			s.width = (s.hi - s.lo) * float64(d.UPEM) * 64 / float64(choose(s.bar, ppem.Y, ppem.X))
			out.add(s)
		}
	}
	for _, s := range d.Stems {
		if !s.Ghost && s.Hi > s.Lo {
			out.strokes = append(out.strokes, declared(s, d.UPEM, ppem, p))
		}
	}
	return out
}

// add joins a stroke to one in line with it, as a crossing stroke parts them.
func (d *drawn) add(s stroke) {
	for i := range d.strokes {
		t := &d.strokes[i]
		if t.bar == s.bar && math.Abs(t.lo-s.lo) < inLinePx && math.Abs(t.hi-s.hi) < inLinePx {
			t.from, t.to, t.own = min(t.from, s.from), max(t.to, s.to), max(t.own, s.own)
			return
		}
	}
	d.strokes = append(d.strokes, s)
}

// declared is a stem that a hint names: how far along it goes, a hint does not say.
func declared(s glyph.Stem, upem int, ppem glyph.PPEM, p *plane) stroke {
	scale, zero := float64(ppem.X)/64/float64(upem), p.x0
	if s.Axis == glyph.AxisY {
		scale, zero = float64(ppem.Y)/64/float64(upem), p.y0
	}
	return stroke{
		bar: s.Axis == glyph.AxisY, width: float64(s.Hi - s.Lo), from: math.Inf(-1), to: math.Inf(1),
		lo: float64(s.Lo)*scale - float64(zero), hi: float64(s.Hi)*scale - float64(zero),
	}
}

// end says of the ink of a row at the top or bottom of a letter whether one of
// its runs is that of a flat end, or all are caps of rounds; neither where the
// outline ends elsewhere, or in corners.
func (d *drawn) end(has *plane, row int, top bool) (flat, round bool) {
	if d == nil || math.Abs(choose(top, d.top-float64(row+1), d.bottom-float64(row))) > 1+strayPx {
		return false, false
	}
	round = true
	for x := 0; x < has.w; x++ {
		from := x
		for has.ink(row*has.w + x) {
			x++
		}
		if x == from {
			continue
		}
		switch c := d.crest(float64(from), float64(x), top); {
		case c.cliffs == 2 || c.cliffs == 1 && c.kind == Edge || c.flats > 1:
			return true, false
		case c.fall > gentleFall:
			round = false
		}
	}
	return false, round
}

// crest is the highest place of an outline within some columns, or, upside down,
// the lowest.
type crest struct {
	kind   Kind    // of the outline there
	flats  int     // columns over flat edges that end the letter as well
	cliffs int     // sides on which it ends at once
	fall   float64 // slope on its steeper side
}

func (d *drawn) crest(from, to float64, top bool) crest {
	const step = 0.25 // pixels
	c, at, high := crest{}, from, math.Inf(-1)
	for beside := 0.0; beside <= strayPx && high < choose(top, d.top, -d.bottom)-overshootEm*d.em-strayPx; beside += strayPx / 2 {
		for x := from - beside; x <= to+beside; x += step {
			if h, kind := d.height(x, top); h > high {
				at, high, c.kind = x, h, kind
			}
		}
	}
	if math.IsInf(high, 0) {
		return c
	}
	for x := from + 0.5; x < to; x++ {
		if h, kind := d.height(x, top); kind == Edge && high-h <= overshootEm*d.em {
			c.flats++
		}
	}
	for _, way := range [...]float64{-step, step} {
		x, h := at, high
		for high-h <= flatEm*d.em {
			x += way
			h, _ = d.height(x, top)
		}
		beside, _ := d.height(x+math.Copysign(capEm*d.em, way), top)
		fall := (high - beside) / (capEm * d.em)
		if c.fall = max(c.fall, fall); fall > cliffFall {
			c.cliffs++
		}
	}
	return c
}

// height is the highest place of the outline in a column, or, upside down, the
// lowest, and its kind; below all where there is none.
func (d *drawn) height(x float64, top bool) (high float64, kind Kind) {
	high = math.Inf(-1)
	for _, p := range d.pieces {
		if x < min(p.x0, p.x1) || x > max(p.x0, p.x1) || p.x0 == p.x1 {
			continue
		}
		y := p.y0 + (p.y1-p.y0)*(x-p.x0)/(p.x1-p.x0)
		if y = choose(top, y, -y); y > high {
			high, kind = y, p.kind
		}
	}
	return high, kind
}

// inkRight says that ink lies right of the way of the contours, as in TrueType.
func inkRight(o *glyph.Outline) bool {
	var area float64
	start := 0
	for _, end := range o.Ends {
		for i := start; i <= end; i++ {
			q := o.Points[choose(i == end, start, i+1)]
			area += float64(o.Points[i].X)*float64(q.Y) - float64(q.X)*float64(o.Points[i].Y)
		}
		start = end + 1
	}
	return area < 0
}

// stroke pairs a fore edge with the nearest opposite one beside it.
func (e *drawnEdge) stroke(edges []drawnEdge) (s stroke, ok bool) {
	if !e.fore {
		return s, false
	}
	for _, o := range edges {
		from, to := max(e.lo, o.lo), min(e.hi, o.hi)
		if o.bar != e.bar || o.fore || o.at <= e.at || to-from < limbAspect*(o.at-e.at) || to-from < minLimb-0.5 {
			continue
		}
		if !ok || o.at < s.hi {
			s, ok = stroke{bar: e.bar, lo: e.at, hi: o.at, from: from, to: to, own: to - from}, true
		}
	}
	return s, ok
}

// of finds the stroke that a limb is drawn for; nil where there is none.
func (d *drawn) of(l limb) *stroke {
	if d == nil {
		return nil
	}
	lo, hi, from, to := l.x0, l.x1, l.y0, l.y1
	if l.bar {
		lo, hi, from, to = from, to, lo, hi
	}
	var best *stroke
	miss := strayPx
	for i := range d.strokes {
		s := &d.strokes[i]
		if s.bar != l.bar || min(s.to, float64(to))-max(s.from, float64(from)) < float64(min(minLimb, to-from)) {
			continue
		}
		if off := math.Abs((s.lo+s.hi)/2 - float64(lo+hi)/2); off < miss {
			best, miss = s, off
		}
	}
	return best
}

// beside is what the outline nearest to a place is; nothing where none lies as
// near as hints may have carried it.
func (d *drawn) beside(x, y float64) (Kind, bool) {
	if d == nil {
		return "", false
	}
	kind, nearest := Edge, strayPx
	for _, p := range d.pieces {
		if off := p.distance(x, y); off < nearest {
			kind, nearest = p.kind, off
		}
	}
	return kind, nearest < strayPx
}

func (p *piece) distance(x, y float64) float64 {
	dx, dy := p.x1-p.x0, p.y1-p.y0
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = min(1, max(0, ((x-p.x0)*dx+(y-p.y0)*dy)/n))
	}
	return math.Hypot(x-p.x0-t*dx, y-p.y0-t*dy)
}

// reaches says that the outline at the upper edge of a bar, no further off than hints carry
// it, has a point between two rows.
func (d *drawn) reaches(bar *limb, lo, hi float64) bool {
	middle := float64(bar.y0+bar.y1) / 2
	return slices.ContainsFunc(d.pieces, func(p piece) bool {
		return p.y0 >= lo && p.y0 <= hi && p.y0 > middle && p.y0 <= float64(bar.y1)+strayPx &&
			p.x0 >= float64(bar.x0)-strayPx && p.x0 <= float64(bar.x1)+strayPx
	})
}

// place finds a stroke of the outline in a drawing: the run of ink nearest its
// middle that most lines across it share.
func (p *plane) place(s *stroke) (limb, bool) {
	step, line, wide, long := 1, p.w, p.w, p.h
	if s.bar {
		step, line, wide, long = line, step, long, wide
	}
	runs := map[[2]int]int{}
	from, to := max(0, int(math.Round(s.from))), min(long, int(math.Round(s.to)))
	for a := from; a < to; a++ {
		c, ok := int(math.Floor((s.lo+s.hi)/2)), false
		for _, off := range [...]int{0, 1, -1} {
			if i := c + off; i > 0 && i < wide-1 && p.ink(a*line+i*step) {
				c, ok = i, true
				break
			}
		}
		if !ok {
			continue
		}
		lo, hi := c, c+1
		for p.ink(a*line + (lo-1)*step) {
			lo--
		}
		for p.ink(a*line + hi*step) {
			hi++
		}
		runs[[2]int{lo, hi}]++
	}
	best := [2]int{}
	for r, n := range runs {
		if n > runs[best] || n == runs[best] && (r[0] < best[0] || r[0] == best[0] && r[1] < best[1]) {
			best = r
		}
	}
	if n := runs[best]; n < minLimb || 2*n < to-from {
		return limb{}, false
	}
	l := limb{x0: best[0], y0: from, x1: best[1], y1: to, own: runs[best]}
	if s.bar {
		l = l.turned()
	}
	return l, true
}

// outlined adds to the limbs of a drawing those that the outline has and the
// bitmap alone does not show.
func (p *plane) outlined(list []limb, d *drawn, bar bool) []limb {
	if d == nil {
		return list
	}
	for i := range d.strokes {
		s := &d.strokes[i]
		if s.bar != bar || math.IsInf(s.to, 0) {
			continue
		}
		if l, ok := p.place(s); ok && !slices.ContainsFunc(list, func(o limb) bool { return o.covers(l) }) {
			list = append(list, l)
		}
	}
	return list
}

// equal says that two limbs are strokes of equal width in the outline, if it
// says anything about both.
func (d *drawn) equal(a, b limb, upem int) (equal, known bool) {
	s, t := d.of(a), d.of(b)
	if s == nil || t == nil {
		return false, false
	}
	return math.Abs(s.width-t.width) <= equalEm*float64(upem), true
}
