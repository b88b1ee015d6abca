package render

import (
	"math"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// What the properties of fitted stems are measured on. Features are found in
// the outline as drawn and in the dictionary, never in what the fitter says it
// did, and measured in the bitmap, so that any renderer can be held to them.
// Lengths are font units as floats: nothing here becomes a bitmap.
type features struct {
	index      int
	stems      []stemFeature
	rows       []rowFeature
	serifs     []serifFeature
	mirror     bool    // the outline is its own mirror image about a vertical
	axis       float64 // twice the place of that vertical
	uprights   int     // declared
	zeroWidths int     // declared stems with both edges in one place
	abreast    [2][]abreast
	reach      reach
	flat       [][]point // the contours, flattened
}

// stemFeature is a declared stem where both of its edges are in the outline:
// straight, or the extremes of rounds. across is the coordinate along the stem
// at which it is measured, reach how far it goes on from there to both sides.
type stemFeature struct {
	axis          glyph.Axis
	lo, hi        float64
	across, reach float64
	straight      bool
	clear         float64 // white at either side of it there, at least
	beyond        float64 // how far up an edge in an alignment zone is from the flat position
}

type point struct {
	x, y float64
	on   bool
}

func featuresOf(d *face.Drawing, zones []band, index int) *features {
	f := &features{index: index}
	contours := contoursOf(&d.Outline)
	for i := range d.Hints {
		switch h := &d.Hints[i]; {
		case h.Ghost != face.NoGhost:
		case h.Lo == h.Hi:
			f.zeroWidths++
		default:
			if h.Axis == glyph.AxisX {
				f.uprights++
			}
			f.findStem(h, contours, zones)
		}
	}
	f.abreast = [2][]abreast{abreastOf(d, contours, glyph.AxisX), abreastOf(d, contours, glyph.AxisY)}
	for _, c := range contours {
		f.flat = append(f.flat, flattened(c))
	}
	for i, c := range contours {
		f.findRows(c, f.flat[i], zones)
	}
	f.axis, f.mirror = mirrored(contours)
	f.reach = reachOf(contours)
	return f
}

// reach is how far curves go along X.
type reach struct{ lo, hi float64 }

func reachOf(contours [][]point) reach {
	r := reach{math.Inf(1), math.Inf(-1)}
	for _, c := range contours {
		for _, p := range c {
			if p.on {
				r.lo, r.hi = min(r.lo, p.x), max(r.hi, p.x)
			}
		}
	}
	for _, c := range contours {
		if slices.ContainsFunc(c, func(p point) bool { return p.x < r.lo || p.x > r.hi }) {
			for _, p := range flattened(c) {
				r.lo, r.hi = min(r.lo, p.x), max(r.hi, p.x)
			}
		}
	}
	return r
}

func contoursOf(o *glyph.Outline) [][]point {
	var all [][]point
	from := 0
	for _, end := range o.Ends {
		var c []point
		for _, p := range o.Points[from : end+1] {
			c = append(c, point{float64(p.X) / 64, float64(p.Y) / 64, p.Kind == glyph.OnCurve})
		}
		if n := len(c); n > 1 && c[0].on && c[n-1].on && c[0] == c[n-1] {
			c = c[:n-1]
		}
		all = append(all, c)
		from = end + 1
	}
	return all
}

// side is a stretch of outline at one coordinate: a straight edge, or the
// extreme of a round (of no length).
type side struct {
	from, to float64
	straight bool
}

// sides finds what lies on a coordinate.
func sides(contours [][]point, axis glyph.Axis, at float64) (all []side) {
	for _, c := range contours {
		for i := range c {
			p, q, o := turned(c[i], axis), turned(c[(i+1)%len(c)], axis), turned(c[(i+len(c)-1)%len(c)], axis)
			switch {
			case !p.on || p.x != at:
			case q.on && q.x == at && q.y != p.y:
				all = append(all, side{min(p.y, q.y), max(p.y, q.y), true})
			case !q.on && !o.on && q.x == at && o.x == at && (q.y-p.y)*(o.y-p.y) < 0:
				all = append(all, side{p.y, p.y, false})
			}
		}
	}
	return all
}

// turned makes the coordinate of an axis x.
func turned(p point, a glyph.Axis) point {
	if a == glyph.AxisY {
		p.x, p.y = p.y, p.x
	}
	return p
}

// findStem looks for the longest stretch where both edges of a hint face each
// other, straight edges first.
func (f *features) findStem(h *face.Hint, contours [][]point, zones []band) {
	lo, hi := float64(h.Lo)/64, float64(h.Hi)/64
	s := stemFeature{axis: h.Axis, lo: lo, hi: hi, reach: -1}
	for _, a := range sides(contours, h.Axis, lo) {
		for _, b := range sides(contours, h.Axis, hi) {
			from, to := max(a.from, b.from), min(a.to, b.to)
			switch {
			case a.straight && b.straight && to > from:
				if r := (to - from) / 2; r > s.reach || !s.straight {
					s.across, s.reach, s.straight = (from+to)/2, r, true
				}
			case !a.straight && !b.straight && !s.straight && math.Abs(a.from-b.from) < 20:
				s.across, s.reach = (a.from+b.from)/2, 0
			}
		}
	}
	if s.reach < 0 || !s.clearest(contours) {
		return
	}
	s.findZone(zones)
	f.stems = append(f.stems, s)
	if s.straight && h.Axis == glyph.AxisX {
		f.findSerifs(contours, len(f.stems)-1)
	}
}

func unitsOf(v fixed.Int26_6) float64 { return float64(v) / 64 }
