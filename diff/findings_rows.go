package diff

import "math"

// heights names a change of the highest or lowest row of the letter: the ink
// that one side has beyond the other.
func (k *trial) heights() {
	gb, gt := k.d.golden.rows()
	cb, ct := k.d.candidate.rows()
	if gt != ct {
		k.row(min(gt, ct), max(gt, ct), true, ct-gt)
	}
	if gb != cb {
		k.row(min(gb, cb), max(gb, cb), false, cb-gb)
	}
}

// row claims the changed pixels of rows y0 to y1-1, and those of the other
// edge where the whole end of the letter moved and kept its weight.
func (k *trial) row(y0, y1 int, top bool, moved int) {
	g := &k.d.golden
	var list []int
	for y := y0; y < y1; y++ {
		for x := range g.w {
			if i := y*g.w + x; k.changed(i) {
				list = append(list, i)
			}
		}
	}
	has := g
	if (moved > 0) == top {
		has = &k.d.candidate
	}
	extreme, inner := y1-1, y0-1
	if !top {
		extreme, inner = y0, y1
	}
	ink := has.rowInk(extreme)
	if len(list) == 0 || ink == 0 {
		return
	}
	f := Finding{Kind: Height, MeasurePx: float64(moved), Place: Place{What: k.alignment(top)}}
	if ink < 2 || has.round(extreme, inner) {
		f.Kind = Overshoot
		f.Text = "round " + choose(top, "top", "bottom") + " reaches " + pixels(float64(moved)) + choose(moved > 0, " higher", " lower")
	} else {
		f.Text = f.Place.What + " " + pixels(float64(moved)) + choose(moved > 0, " higher", " lower")
	}
	f.Severity = severityOf(f.Kind, math.Abs(float64(moved))*k.j.eye.minutesY)
	k.claim(f, append(list, k.underside(list, y0, y1, top)...))
}

// round says that the extreme row is the cap of a curve: the row within is
// wider at both ends of the run above it.
func (p *plane) round(extreme, inner int) bool {
	first, last := -1, -1
	for x := range p.w {
		if p.ink(extreme*p.w + x) {
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	// one cap, and the ink beside its ends goes on in the next row
	return first >= 0 && last-first+1 == p.rowInk(extreme) &&
		p.ink(inner*p.w+first-1) && p.ink(inner*p.w+last+1)
}

// underside gives the pixels of opposite sign within four rows of a row that moved, under its columns.
func (k *trial) underside(list []int, y0, y1 int, top bool) []int {
	g := &k.d.golden
	var out []int
	seen := map[int]bool{}
	for _, i := range list {
		x := i % g.w
		if seen[x] {
			continue
		}
		seen[x] = true
		for n := range 4 {
			y := y0 - 1 - n
			if !top {
				y = y1 + n
			}
			if y < 0 || y >= g.h {
				break
			}
			if j := y*g.w + x; k.changed(j) && k.signed(j)*k.signed(i) < 0 {
				out = append(out, j)
			}
		}
	}
	return out
}

// alignment names the row: by the face's zones where they are at hand, else
// plainly.
func (k *trial) alignment(top bool) string {
	plain := choose(top, "top row", "bottom row")
	d := k.p.Design
	if d == nil || d.UPEM == 0 {
		return plain
	}
	bottom, high := k.d.golden.rows()
	at := float64(choose(top, high, bottom) + k.d.golden.y0)
	best, miss := plain, 1.5
	for _, z := range d.Zones {
		if z.Top != top || z.Name == "" {
			continue
		}
		row := float64(z.Flat) * float64(k.p.PPEM.Y) / 64 / float64(d.UPEM)
		if off := math.Abs(row - at); off < miss {
			best, miss = z.Name, off
		}
	}
	return best
}
