package diff

import (
	"cmp"
	"slices"
)

// limb is a straight stroke of even weight: a stem, or lying down a bar. The
// box is half open, in plane coordinates.
type limb struct {
	bar            bool
	x0, y0, x1, y1 int
}

func (l limb) thickness() int { return choose(l.bar, l.y1-l.y0, l.x1-l.x0) }
func (l limb) length() int    { return choose(l.bar, l.x1-l.x0, l.y1-l.y0) }

// What counts as a limb. Ours, no source: below these a stroke reads as part
// of a curve or a diagonal.
const (
	evenShare  = 0.6 // of its rows that have the very edges of the limb
	stemShare  = 0.3 // of the height of the ink, at least
	barShare   = 0.2 // of the width of the ink, at least: serifs are bars too
	minLimb    = 3   // pixels long, at least
	limbAspect = 1.5 // length over thickness, at least
)

// stems finds the upright limbs of a drawing, left to right.
func (p *plane) stems() []limb {
	return p.limbs(stemShare)
}

// bars finds the lying limbs, bottom to top.
func (p *plane) bars() []limb {
	q := plane{p.y0, p.x0, p.h, p.w, make([]uint8, len(p.v))}
	for y := range p.h {
		for x := range p.w {
			q.v[x*q.w+y] = p.v[y*p.w+x]
		}
	}
	list := q.limbs(barShare)
	for i, l := range list {
		list[i] = limb{true, l.y0, l.x0, l.y1, l.x1}
	}
	return list
}

// chain is a pile of runs, one a row, whose edges hardly move.
type chain struct {
	y           int // the lowest row
	left, right []int
}

func (p *plane) limbs(share float64) []limb {
	least := max(minLimb, int(share*float64(p.h-2*margin)+0.5))
	var open, done []chain
	for y := range p.h {
		var next []chain
		for x := 0; x < p.w; x++ {
			if !p.ink(y*p.w + x) {
				continue
			}
			from := x
			for x < p.w && p.ink(y*p.w+x) {
				x++
			}
			c := chain{y: y}
			for i, o := range open {
				n := len(o.left) - 1
				if abs(o.left[n]-from) <= 1 && abs(o.right[n]-x) <= 1 {
					c, open = o, slices.Delete(open, i, i+1)
					break
				}
			}
			c.left, c.right = append(c.left, from), append(c.right, x)
			next = append(next, c)
		}
		done, open = append(done, open...), next
	}
	var list []limb
	for _, c := range append(done, open...) {
		if l, ok := c.limb(); ok {
			list = append(list, l)
		}
	}
	list = slices.DeleteFunc(p.mended(list), func(l limb) bool {
		return l.length() < least || float64(l.length()) < limbAspect*float64(l.thickness())
	})
	slices.SortFunc(list, func(a, b limb) int { return cmp.Or(a.x0-b.x0, a.y0-b.y0) })
	return list
}

// limb gives the edges that most rows share.
func (c *chain) limb() (limb, bool) {
	l, r := mode(c.left), mode(c.right)
	even, first, last := 0, -1, 0
	for i := range c.left {
		if c.left[i] == l && c.right[i] == r {
			if first < 0 {
				first = i
			}
			even, last = even+1, i
		}
	}
	if l >= r || first < 0 || float64(even) < evenShare*float64(len(c.left)) {
		return limb{}, false
	}
	return limb{false, l, c.y + first, r, c.y + last + 1}, true
}

// mended joins limbs that a crossing stroke cut: same edges, solid ink between.
func (p *plane) mended(list []limb) []limb {
	slices.SortFunc(list, func(a, b limb) int { return cmp.Or(a.x0-b.x0, a.x1-b.x1, a.y0-b.y0) })
	var out []limb
	for _, l := range list {
		if n := len(out) - 1; n >= 0 && out[n].x0 == l.x0 && out[n].x1 == l.x1 && p.solid(l.x0, out[n].y1, l.x1, l.y0) {
			out[n].y1 = l.y1
			continue
		}
		out = append(out, l)
	}
	return out
}

func (p *plane) solid(x0, y0, x1, y1 int) bool {
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			if !p.ink(y*p.w + x) {
				return false
			}
		}
	}
	return true
}

// rows gives the lowest row with ink and the one above the highest; both 0
// where there is none.
func (p *plane) rows() (bottom, top int) {
	for y := range p.h {
		if p.rowInk(y) > 0 {
			if top == 0 {
				bottom = y
			}
			top = y + 1
		}
	}
	return bottom, top
}

func (p *plane) rowInk(y int) int {
	n := 0
	for x := range p.w {
		if p.ink(y*p.w + x) {
			n++
		}
	}
	return n
}

// mode is the commonest value; the lowest of equals.
func mode(list []int) int {
	best, most := 0, 0
	for _, v := range list {
		n := 0
		for _, w := range list {
			if v == w {
				n++
			}
		}
		if n > most || n == most && v < best {
			best, most = v, n
		}
	}
	return best
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}
