package render

import (
	"math"

	"smokeproof/harness/glyph"
)

// serifFeature is one end of a straight upright stem, with serifs at both
// sides that are mirror images of each other.
type serifFeature struct {
	stem          int // index into features.stems
	bottom, top   float64
	across, reach float64
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

// mirrored says that the outline is its own mirror image about the middle of
// its box, and gives twice that: each step from a point to the next has its like, taken backward.
func mirrored(contours [][]point) (axis float64, is bool) {
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
			return 0, false
		}
	}
	return left + right, len(steps) > 0
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
// middle of an even width is the tip that dropout control keeps, on one side.
func symmetric(b *glyph.Bitmap) bool {
	for y := b.Bottom; y < b.Top(); y++ {
		middle := b.Left + b.Width/2
		if b.Width%2 == 0 && inkOf(b, y) == 1 && b.At(middle-1, y)|b.At(middle, y) != 0 {
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
