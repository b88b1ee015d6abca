package diff

import (
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// stroke is a pair of opposite edges of the outline, ink between them: a stem
// or a bar as its maker drew it, unhinted.
type stroke struct {
	bar              bool
	lo, hi, from, to float64 // pixels, in the plane's coordinates
	width            float64 // font units
	own              float64 // pixels of the longest of the parts that lie in line
}

// outlineEdge is a straight upright or lying piece of an outline, in pixels in
// the plane's coordinates. Fore says that ink lies beyond it, where at grows.
type outlineEdge struct {
	bar, fore  bool
	at, lo, hi float64
}

// stroke pairs a fore edge with the nearest opposite one beside it.
func (e *outlineEdge) stroke(edges []outlineEdge) (s stroke, ok bool) {
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

// findStrokes pairs the edges of an outline, and adds the stems that hints declare.
func (d *outline) findStrokes(edges []outlineEdge, design *glyph.Design, ppem glyph.PPEM, p *plane) {
	for _, e := range edges {
		if s, ok := e.stroke(edges); ok {
			s.width = (s.hi - s.lo) * float64(design.UPEM) * 64 / float64(choose(s.bar, ppem.Y, ppem.X))
			d.add(s)
		}
	}
	for _, s := range design.Stems {
		if !s.Ghost && s.Hi > s.Lo {
			d.strokes = append(d.strokes, declared(s, design.UPEM, ppem, p))
		}
	}
}

// add joins a stroke to one in line with it, as a crossing stroke parts them.
func (d *outline) add(s stroke) {
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
	emX, emY := ppem.Float()
	scale, zero := emX/float64(upem), p.x0
	if s.Axis == glyph.AxisY {
		scale, zero = emY/float64(upem), p.y0
	}
	return stroke{
		bar: s.Axis == glyph.AxisY, width: float64(s.Hi - s.Lo), from: math.Inf(-1), to: math.Inf(1),
		lo: float64(s.Lo)*scale - float64(zero), hi: float64(s.Hi)*scale - float64(zero),
	}
}

// strokeOf finds the stroke that a limb is drawn for; nil where there is none.
func (d *outline) strokeOf(l limb) *stroke {
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

// equal says that two limbs are strokes of equal width in the outline, if it
// says anything about both.
func (d *outline) equal(a, b limb, upem int) (equal, known bool) {
	s, t := d.strokeOf(a), d.strokeOf(b)
	if s == nil || t == nil {
		return false, false
	}
	return math.Abs(s.width-t.width) <= equalEm*float64(upem), true
}

// limbOf finds a stroke of the outline in a drawing: the run of ink nearest its
// middle that most lines across it share.
func (p *plane) limbOf(s *stroke) (limb, bool) {
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
	l := limb{box: box{best[0], from, best[1], to}, own: runs[best]}
	if s.bar {
		l = l.transposed()
	}
	return l, true
}

// outlined adds to the limbs of a drawing those that the outline has and the
// bitmap alone does not show.
func (p *plane) outlined(list []limb, d *outline, bar bool) []limb {
	if d == nil {
		return list
	}
	for i := range d.strokes {
		s := &d.strokes[i]
		if s.bar != bar || math.IsInf(s.to, 0) {
			continue
		}
		if l, ok := p.limbOf(s); ok && !slices.ContainsFunc(list, func(o limb) bool { return o.covers(l) }) {
			list = append(list, l)
		}
	}
	return list
}
