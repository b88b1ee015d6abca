package face

import (
	"fmt"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// fix is a number of a charstring: 16.16, held wide because Type 1 writes
// integers of 32 bits (TN5177, section 3.2; Type 1 book, section 6.2).
type fix int64

const fixOne fix = 1 << 16

// units is the nearest 26.6 value, half up.
func (v fix) units() fixed.Int26_6 { return fixed.Int26_6((v + 1<<9) >> 10) }

// Limits on one drawing. They bound what a hostile charstring can cost; none is
// near what a shipped face does.
const (
	maxCoordinate = fix(1<<20) << 16 // font units: 64 times the largest em
	maxHints      = 512              // both parts of a composite, every replacement
)

// plotter turns the steps of a charstring into a Drawing. Points stand as
// FreeType has them, so that the two compare: no line of no length, no last
// point that repeats the first, no contour of one point (its psobjs.c and
// psft.c).
type plotter struct {
	drawing Drawing
	x, y    fix // the current point
	dx, dy  fix // where hints count from
	from    vec // the start of the next contour
	moved   bool
	open    bool
	first   int // the open contour's first point
	fault   string
}

type vec struct{ x, y fix }

// fail keeps the first fault.
func (p *plotter) fail(format string, args ...any) {
	if p.fault == "" {
		p.fault = fmt.Sprintf(format, args...)
	}
}

// moveTo ends the contour before and begins one where the next line starts.
func (p *plotter) moveTo(dx, dy fix) {
	p.close()
	p.settle()
	p.step(dx, dy)
	p.from, p.moved = vec{p.x, p.y}, true
}

func (p *plotter) lineTo(dx, dy fix) {
	if dx == 0 && dy == 0 {
		return
	}
	p.begin()
	p.step(dx, dy)
	p.point(glyph.OnCurve)
}

// curveTo takes each point relative to the one before.
func (p *plotter) curveTo(d [6]fix) {
	p.begin()
	for i, kind := range [3]glyph.Kind{glyph.Cubic, glyph.Cubic, glyph.OnCurve} {
		p.step(d[2*i], d[2*i+1])
		p.point(kind)
	}
}

// flexTo draws two curves that are to be straight where they are low. Depth is
// in hundredths of a device pixel.
func (p *plotter) flexTo(d [12]fix, depth fix) {
	p.begin()
	var w, h fix
	for i := 0; i < len(d); i += 2 {
		w, h = w+d[i], h+d[i+1]
	}
	axis := glyph.AxisX
	if max(w, -w) > max(h, -h) {
		axis = glyph.AxisY
	}
	p.drawing.Flexes = append(p.drawing.Flexes, Flex{First: len(p.drawing.Outline.Points), Axis: axis, Depth: depth.units()})
	p.curveTo([6]fix(d[:6]))
	p.curveTo([6]fix(d[6:]))
}

func (p *plotter) step(dx, dy fix) {
	p.x, p.y = p.x+dx, p.y+dy
	if max(p.x, -p.x, p.y, -p.y) > maxCoordinate {
		p.fail("the pen leaves the em by more than %d units", maxCoordinate>>16)
		p.x, p.y = 0, 0
	}
}

// begin sets the first point of a contour, once something is drawn.
func (p *plotter) begin() {
	if p.open {
		return
	}
	if !p.moved {
		p.from = vec{p.x, p.y}
	}
	p.open, p.moved, p.first = true, false, len(p.drawing.Outline.Points)
	here := vec{p.x, p.y}
	p.x, p.y = p.from.x, p.from.y
	p.point(glyph.OnCurve)
	p.x, p.y = here.x, here.y
}

func (p *plotter) point(kind glyph.Kind) {
	o := &p.drawing.Outline
	if len(o.Points) >= maxPoints {
		p.fail("more than %d points", maxPoints)
		return
	}
	o.Points = append(o.Points, glyph.Point{X: p.x.units(), Y: p.y.units(), Kind: kind})
}

// close ends the open contour; the current point stays.
func (p *plotter) close() {
	p.moved = false
	if !p.open {
		return
	}
	p.open = false
	o := &p.drawing.Outline
	if last := len(o.Points) - 1; last > p.first && o.Points[last] == o.Points[p.first] {
		o.Points = o.Points[:last]
	}
	if len(o.Points)-p.first < 2 {
		o.Points = o.Points[:p.first]
		p.settle()
		return
	}
	o.Ends = append(o.Ends, len(o.Points)-1)
}

// declare puts a stem in force and gives its place among the hints.
func (p *plotter) declare(axis glyph.Axis, at, width fix) int {
	i := p.hint(axis, at, width)
	if p.span() == nil {
		p.inForce(nil)
	}
	if s := p.span(); !slices.Contains(s.Hints, i) {
		s.Hints = append(s.Hints, i)
	}
	return i
}

// hint finds or adds a stem: one declared before is the same stem.
func (p *plotter) hint(axis glyph.Axis, at, width fix) int {
	if axis == glyph.AxisX {
		at += p.dx
	} else {
		at += p.dy
	}
	h := Hint{Axis: axis, Lo: at.units(), Hi: (at + width).units()}
	switch {
	case width == -20*fixOne:
		h.Ghost, h.Hi = GhostTop, h.Lo
	case width == -21*fixOne:
		h.Ghost, h.Lo = GhostBottom, h.Hi
	case width < 0:
		h.Lo, h.Hi = h.Hi, h.Lo
	}
	i := slices.Index(p.drawing.Hints, h)
	if i < 0 {
		if i = len(p.drawing.Hints); i >= maxHints {
			p.fail("more than %d stems", maxHints)
			return 0
		}
		if max(at, -at, at+width, -at-width) > maxCoordinate {
			p.fail("a stem at %d", at>>16)
		}
		p.drawing.Hints = append(p.drawing.Hints, h)
	}
	return i
}

// span is the last one, nil where nothing was put in force yet.
func (p *plotter) span() *Span {
	if n := len(p.drawing.Spans); n > 0 {
		return &p.drawing.Spans[n-1]
	}
	return nil
}

// inForce replaces the hints from the next point on. A point that the pen has
// only moved to was placed under the hints before.
func (p *plotter) inForce(hints []int) {
	at := len(p.drawing.Outline.Points)
	if p.moved {
		at++
	}
	s := p.span()
	switch {
	case s == nil:
		p.drawing.Spans = append(p.drawing.Spans, Span{0, hints})
	case s.Point == at:
		s.Hints = hints
	default:
		p.drawing.Spans = append(p.drawing.Spans, Span{at, hints})
	}
}

// settle lets the last span begin at the next point, where points that it was
// to begin behind were not drawn.
func (p *plotter) settle() {
	all := p.drawing.Spans
	n := len(all)
	if n == 0 {
		return
	}
	last := all[n-1]
	last.Point = min(last.Point, len(p.drawing.Outline.Points))
	for n > 1 && all[n-2].Point >= last.Point {
		n--
	}
	all[n-1] = last
	p.drawing.Spans = all[:n]
}

// counter notes hints whose gaps are to be equal, sorted by position.
func (p *plotter) counter(hints []int) {
	slices.SortFunc(hints, func(a, b int) int {
		return int(p.drawing.Hints[a].Lo - p.drawing.Hints[b].Lo)
	})
	hints = slices.Compact(hints)
	known := slices.ContainsFunc(p.drawing.Counters, func(c []int) bool { return slices.Equal(c, hints) })
	switch {
	case len(hints) < 2 || known:
	case len(p.drawing.Counters) >= maxHints:
		p.fail("more than %d groups of counters", maxHints)
	default:
		p.drawing.Counters = append(p.drawing.Counters, hints)
	}
}

// finish closes the last contour and drops spans that hold no point.
func (p *plotter) finish() *Drawing {
	p.close()
	d := &p.drawing
	for n := len(d.Spans); n > 1 && d.Spans[n-1].Point >= len(d.Outline.Points); n-- {
		d.Spans = d.Spans[:n-1]
	}
	if len(d.Spans) == 0 {
		d.Spans = []Span{{}}
	}
	return d
}
