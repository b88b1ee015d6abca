package diff

import (
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// outline is what judgement takes from a face's drawing, in pixels in the plane's
// coordinates.
type outline struct {
	segments            []segment
	ends                []int // of each contour: the segment after its last
	strokes             []stroke
	top, bottom         float64 // highest and lowest point
	topFlat, bottomFlat float64 // how far within them the nearest flat edge lies
	em                  float64
}

// segment is a part of an outline between two of its points, and what a change
// beside it is called.
type segment struct {
	x0, y0, x1, y1 float64
	kind           Kind // Edge, Diagonal or Round
}

// readOutline reads a face's drawing at a size; nil where there is none.
func readOutline(d *glyph.Design, ppem glyph.PPEM, p *plane, on *desk) *outline {
	if d == nil || d.UPEM == 0 || ppem.X == 0 || ppem.Y == 0 {
		return nil
	}
	emX, emY := ppem.Float()
	sx, sy := emX/64/float64(d.UPEM), emY/64/float64(d.UPEM) // points are in 26.6
	at := func(q glyph.Point) (x, y float64) {
		return float64(q.X)*sx - float64(p.x0), float64(q.Y)*sy - float64(p.y0)
	}
	out := &outline{
		segments: on.segments[:0], ends: on.ends[:0], em: emY,
		top: math.Inf(-1), bottom: math.Inf(1), topFlat: math.Inf(1), bottomFlat: math.Inf(1),
	}
	right := inkRight(&d.Outline)
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
			s := segment{x0, y0, x1, y1, Round}
			if a.Kind == glyph.OnCurve && b.Kind == glyph.OnCurve {
				s.kind = Diagonal
				if e, ok := s.edge(right); ok {
					s.kind = Edge
					edges = append(edges, e)
				}
			}
			out.segments = append(out.segments, s)
			out.top, out.bottom = max(out.top, y0), min(out.bottom, y0)
		}
		out.ends = append(out.ends, len(out.segments))
	}
	on.segments, on.ends, on.edges = out.segments, out.ends, edges
	out.findFlats(edges)
	out.findStrokes(edges, d, ppem, p)
	return out
}

// edge is that of a straight segment, if it is upright or lies.
func (s *segment) edge(inkRight bool) (e outlineEdge, ok bool) {
	dx, dy := s.x1-s.x0, s.y1-s.y0
	switch {
	case math.Abs(dx) <= straightSlope*math.Abs(dy):
		return outlineEdge{false, (dy > 0) == inkRight, (s.x0 + s.x1) / 2, min(s.y0, s.y1), max(s.y0, s.y1)}, true
	case math.Abs(dy) <= straightSlope*math.Abs(dx):
		return outlineEdge{true, (dx < 0) == inkRight, (s.y0 + s.y1) / 2, min(s.x0, s.x1), max(s.x0, s.x1)}, true
	}
	return e, false
}

// findFlats looks for the flat edges nearest to both ends.
func (d *outline) findFlats(edges []outlineEdge) {
	for _, e := range edges {
		switch {
		case !e.bar || e.hi-e.lo < flatEm*d.em:
		case e.fore:
			d.bottomFlat = min(d.bottomFlat, e.at-d.bottom)
		default:
			d.topFlat = min(d.topFlat, d.top-e.at)
		}
	}
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

// beside is what the outline nearest to a place is; nothing where none lies as
// near as hints may have carried it.
func (d *outline) beside(x, y float64) (Kind, bool) {
	if d == nil {
		return "", false
	}
	kind, nearest := Edge, strayPx
	for _, p := range d.segments {
		if off := p.distance(x, y); off < nearest {
			kind, nearest = p.kind, off
		}
	}
	return kind, nearest < strayPx
}

func (p *segment) distance(x, y float64) float64 {
	dx, dy := p.x1-p.x0, p.y1-p.y0
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = min(1, max(0, ((x-p.x0)*dx+(y-p.y0)*dy)/n))
	}
	return math.Hypot(x-p.x0-t*dx, y-p.y0-t*dy)
}

// reaches says that the outline at the upper edge of a bar, no further off than hints carry
// it, has a point between two rows.
func (d *outline) reaches(bar *limb, lo, hi float64) bool {
	middle := float64(bar.y0+bar.y1) / 2
	return slices.ContainsFunc(d.segments, func(p segment) bool {
		return p.y0 >= lo && p.y0 <= hi && p.y0 > middle && p.y0 <= float64(bar.y1)+strayPx &&
			p.x0 >= float64(bar.x0)-strayPx && p.x0 <= float64(bar.x1)+strayPx
	})
}
