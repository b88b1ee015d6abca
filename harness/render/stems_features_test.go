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
	index    int
	stems    []stemFeature
	rows     []rowFeature
	serifs   []serifFeature
	mirror   bool // the outline is its own mirror image about a vertical
	uprights int  // declared
	reach    reach
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
}

// rowFeature is a flat or round top or bottom in an alignment zone.
type rowFeature struct {
	zone        int
	top, round  bool
	x, y, reach float64
	contour     []point // flattened, of a round
	clear       float64 // white beyond it, to the next ink above a top or under a bottom
}

// whiteAt finds how much white there is beyond a row at a place: none where other
// ink begins on the row itself.
func (r *rowFeature) whiteAt(flat [][]point, x float64) float64 {
	at := x + 1.0/128 // beside any point of the outline
	white, here := math.Inf(1), 0
	for _, c := range flat {
		for i, p := range c {
			q := c[(i+1)%len(c)]
			if (p.x < at) == (q.x < at) {
				continue
			}
			switch beyond := (p.y + (q.y-p.y)*(at-p.x)/(q.x-p.x) - r.y) * sign(r.top); {
			case beyond > 1:
				white = min(white, beyond)
			case beyond >= -1:
				here++
			}
		}
	}
	if here > 1 {
		return 0
	}
	return white
}

// clearest puts the column at which a flat is measured where there is the most
// white beyond it as far as a pixel may reach to either side, the middle where
// that is as good as any.
func (r *rowFeature) clearest(flat [][]point) {
	const halfPixel = 21 // at 8 pt and 203 dpi, in thousandths of the em
	best := rowFeature{clear: -1}
	off := max(0, min(r.reach/2, r.reach-2*halfPixel*clearOfEnds))
	for _, aside := range []float64{0, -off, off} {
		here := *r
		here.x += aside
		here.clear = min(here.whiteAt(flat, here.x-halfPixel), here.whiteAt(flat, here.x), here.whiteAt(flat, here.x+halfPixel))
		if here.clear > best.clear {
			best = here
		}
	}
	*r = best
}

// chord is how wide a round is at a depth below its extreme. A tip narrower
// than a pixel half a pixel down is dropout control's to keep or to leave out.
func (r *rowFeature) chord(depth float64) float64 {
	at := r.y - depth*sign(r.top)
	left, right := math.Inf(-1), math.Inf(1)
	for i, p := range r.contour {
		q := r.contour[(i+1)%len(r.contour)]
		if (p.y < at) == (q.y < at) {
			continue
		}
		if x := p.x + (q.x-p.x)*(at-p.y)/(q.y-p.y); x < r.x {
			left = max(left, x)
		} else {
			right = min(right, x)
		}
	}
	return right - left
}

// serifFeature is one end of a straight upright stem, with serifs at both
// sides that are mirror images of each other.
type serifFeature struct {
	stem          int // index into features.stems
	bottom, top   float64
	across, reach float64
}

type point struct {
	x, y float64
	on   bool
}

func featuresOf(d *face.Drawing, zones []band, index int) *features {
	f := &features{index: index}
	contours := contoursOf(&d.Outline)
	for i := range d.Hints {
		if h := &d.Hints[i]; h.Ghost == face.NoGhost && h.Lo < h.Hi {
			if h.Axis == glyph.AxisX {
				f.uprights++
			}
			f.findStem(h, contours)
		}
	}
	var flat [][]point
	for _, c := range contours {
		flat = append(flat, flattened(c))
	}
	for i, c := range contours {
		f.findRows(c, flat[i], flat, zones)
	}
	f.mirror = mirrored(contours)
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
func (f *features) findStem(h *face.Hint, contours [][]point) {
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
	if s.reach < 0 || !s.cut(contours) {
		return
	}
	f.stems = append(f.stems, s)
	if s.straight && h.Axis == glyph.AxisX {
		f.findSerifs(contours, len(f.stems)-1)
	}
}

// findSerifs walks from either end of a stem's two edges outward and back to
// the stem's middle: where both walks are mirror images, there is a pair.
func (f *features) findSerifs(contours [][]point, stem int) {
	s := &f.stems[stem]
	for _, dir := range []float64{-1, 1} {
		left := walk(contours, s, s.lo, dir)
		right := walk(contours, s, s.hi, dir)
		if len(left) < 2 || len(left) != len(right) {
			continue
		}
		bottom, top, out, same := left[0].y, left[0].y, 0.0, true
		for i, p := range left {
			q := right[i]
			same = same && p.x+q.x == s.lo+s.hi && p.y == q.y && p.on == q.on
			bottom, top, out = min(bottom, p.y), max(top, p.y), max(out, s.lo-p.x)
		}
		if same && out > 5 {
			f.serifs = append(f.serifs, serifFeature{stem: stem, bottom: bottom, top: top, across: s.across, reach: out})
		}
	}
}

// walk follows the outline from the end of a straight edge at x that the stem
// is measured on, in the direction dir along Y, until it reaches the stem's
// middle.
func walk(contours [][]point, s *stemFeature, x, dir float64) (path []point) {
	middle := (s.lo + s.hi) / 2
	for _, c := range contours {
		n := len(c)
		for i := range c {
			for _, step := range []int{1, n - 1} {
				p, q := c[i], c[(i+step)%n]
				straddles := p.x == x && q.x == x && p.on && q.on && (p.y-s.across)*dir < 0 && (q.y-s.across)*dir > 0
				if !straddles {
					continue
				}
				for k := (i + step) % n; len(path) < 14; k = (k + step) % n {
					if (c[k].x-middle)*(x-middle) <= 0 {
						return path
					}
					path = append(path, c[k])
				}
				return nil
			}
		}
	}
	return nil
}

// band is an alignment zone in font units, BlueFuzz left aside.
type band struct {
	top        bool
	flat, over float64
}

func bandsOf(p *face.Private) (all []band) {
	pairs := func(v []float64, firstIsBottom, top bool) {
		for i := 0; i+1 < len(v); i += 2 {
			if top && !(firstIsBottom && i == 0) {
				all = append(all, band{true, v[i], v[i+1]})
			} else {
				all = append(all, band{false, v[i+1], v[i]})
			}
		}
	}
	pairs(p.BlueValues, true, true)
	pairs(p.OtherBlues, false, false)
	return all
}

// findRows finds flats on the flat position of a zone and rounds within it, as
// far as ink begins or ends there.
func (f *features) findRows(c, curve []point, flat [][]point, zones []band) {
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
		for z, b := range zones {
			beyond := (p.y - b.flat) * sign(b.top)
			within := beyond >= 0 && beyond <= math.Abs(b.over-b.flat)
			switch {
			case b.top != top:
			case straight && p.y == b.flat:
				r := rowFeature{zone: z, top: top, x: x, y: p.y, reach: math.Abs(p.x-q.x) / 2}
				r.clearest(flat)
				f.rows = append(f.rows, r)
			case round && within && outermost(c, i, top):
				r := rowFeature{zone: z, top: top, round: true, x: p.x, y: p.y, contour: curve}
				r.clear = r.whiteAt(flat, p.x)
				f.rows = append(f.rows, r)
			}
		}
	}
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

// mirrored says that the outline is its own mirror image about the middle of
// its box: each step from a point to the next has its like, taken backward.
func mirrored(contours [][]point) bool {
	type step struct{ from, to point }
	steps := map[step]bool{}
	left, right := math.Inf(1), math.Inf(-1)
	for _, c := range contours {
		for i, p := range c {
			steps[step{p, c[(i+1)%len(c)]}] = true
			left, right = min(left, p.x), max(right, p.x)
		}
	}
	over := func(p point) point { return point{left + right - p.x, p.y, p.on} }
	for s := range steps {
		if !steps[step{over(s.to), over(s.from)}] {
			return false
		}
	}
	return len(steps) > 0
}

func unitsOf(v fixed.Int26_6) float64 { return float64(v) / 64 }
