package diff

import "smokeproof/harness/glyph"

// margin is the white border, in pixels, that lets neighbours be read unchecked.
const margin = 4

// plane is a bitmap's coverage, 0 to 255, on a box about the origin; row 0 is
// the lowest. Both planes of a pair share one box.
type plane struct {
	x0, y0, w, h int
	v            []uint8
}

func (p *plane) ink(i int) bool { return p.v[i] >= 128 }

func (p *plane) empty() bool {
	for _, v := range p.v {
		if v != 0 {
			return false
		}
	}
	return true
}

// planes lays both bitmaps out on one box, the candidate moved by (dx, dy), in
// the memory given.
func planes(a, b *glyph.Bitmap, dx, dy int, in *[2][]uint8) (g, c plane) {
	boxes := make([]*glyph.Bitmap, 0, 2)
	s, t := a.Tight(), b.Tight()
	t.Left, t.Bottom = t.Left+dx, t.Bottom+dy
	for _, m := range []*glyph.Bitmap{&s, &t} {
		if m.Width > 0 {
			boxes = append(boxes, m)
		}
	}
	var x0, y0, x1, y1 int
	for i, m := range boxes {
		if i == 0 {
			x0, y0, x1, y1 = m.Left, m.Bottom, m.Right(), m.Top()
		}
		x0, y0, x1, y1 = min(x0, m.Left), min(y0, m.Bottom), max(x1, m.Right()), max(y1, m.Top())
	}
	empty := plane{x0 - margin, y0 - margin, x1 - x0 + 2*margin, y1 - y0 + 2*margin, nil}
	return empty.with(&s, &in[0]), empty.with(&t, &in[1])
}

// planeOf lays one bitmap out on a box of its own, in the memory of a pair's golden.
func (j *Judge) planeOf(b *glyph.Bitmap) plane {
	t := b.Tight()
	empty := plane{t.Left - margin, t.Bottom - margin, t.Width + 2*margin, t.Height + 2*margin, nil}
	return empty.with(&t, &j.desk.pair[0])
}

// with fills a plane of the same box; samples of any depth become 0 to 255.
func (p plane) with(b *glyph.Bitmap, in *[]uint8) plane {
	p.v = cleared(in, p.w*p.h)
	if b.Width == 0 {
		return p
	}
	unit := 255 / b.Max()
	for y := b.Bottom; y < b.Top(); y++ {
		for x := b.Left; x < b.Right(); x++ {
			p.v[(y-p.y0)*p.w+x-p.x0] = b.At(x, y) * unit
		}
	}
	return p
}

// delta is the difference of a pair after its best common shift.
type delta struct {
	golden, candidate plane
	dx, dy            int // the shift undone: candidate minus golden
	lost, gained      int // pixels of ink on the device grid, before the shift
	desk              *desk
}

// newDelta compares on the device grid about the origin. A shift is taken only
// where it explains three quarters of the difference or more and no other does as well.
func newDelta(a, b *glyph.Bitmap, on *desk) delta {
	d := delta{desk: on}
	d.golden, d.candidate = planes(a, b, 0, 0, &on.pair)
	d.lost, d.gained = count(&d.golden, &d.candidate)
	if d.lost == 0 || d.gained == 0 {
		return d
	}
	limit := (d.lost + d.gained) / 4
	best, tie := limit+1, false
	for _, s := range shifts(a, b) {
		if s == [2]int{} {
			continue
		}
		switch n := d.apart(a, b, s[0], s[1], best); {
		case n < best:
			best, tie = n, false
			d.dx, d.dy = s[0], s[1]
		case n == best:
			tie = true
		}
	}
	if best > limit || tie {
		d.dx, d.dy = 0, 0
		return d
	}
	d.golden, d.candidate = planes(a, b, -d.dx, -d.dy, &on.pair)
	return d
}

// shifts lists the moves worth trying: what the boxes suggest, and all within reach.
func shifts(a, b *glyph.Bitmap) [][2]int {
	s, t := a.Tight(), b.Tight()
	list := make([][2]int, 0, (2*shiftReach+1)*(2*shiftReach+1)+1)
	for dy := -shiftReach; dy <= shiftReach; dy++ {
		for dx := -shiftReach; dx <= shiftReach; dx++ {
			list = append(list, [2]int{dx, dy})
		}
	}
	box := [2]int{t.Left - s.Left, t.Bottom - s.Bottom}
	if max(abs(box[0]), abs(box[1])) > shiftReach {
		list = append(list, box)
	}
	return list
}

// apart counts the pixels that differ once a shift is undone, and gives up
// above the limit. Within reach the margin holds all ink.
func (d *delta) apart(a, b *glyph.Bitmap, dx, dy, limit int) int {
	if max(abs(dx), abs(dy)) > shiftReach {
		g, c := planes(a, b, -dx, -dy, &d.desk.tried)
		lost, gained := count(&g, &c)
		return lost + gained
	}
	g, c := d.golden.v, d.candidate.v
	step, n := dy*d.golden.w+dx, 0
	for i := max(0, -step); i < min(len(g), len(c)-step) && n <= limit; i++ {
		if g[i] != c[i+step] {
			n++
		}
	}
	return n
}

// count gives the pixels that lost and gained ink.
func count(g, c *plane) (lost, gained int) {
	for i, v := range g.v {
		switch {
		case v > c.v[i]:
			lost++
		case v < c.v[i]:
			gained++
		}
	}
	return lost, gained
}

// edit is a set of touching pixels that all lost ink, or all gained it.
type edit struct {
	gain           bool
	pixels         []int // indices into the plane
	change         int   // sum of the coverage change, 255 a pixel
	hard           int   // pixels that turned from ink to white or back
	x0, y0, x1, y1 int   // half-open box in plane coordinates
}

// amount is the change in whole pixels of ink.
func (e *edit) amount() float64 { return float64(e.change) / 255 }

// edits splits the difference into its 8-connected parts of one sign: the same
// parts whichever side is called golden. On the desk each pixel has the label
// of its edit, from 1.
func (d *delta) edits() []edit {
	g, c := &d.golden, &d.candidate
	label, stack := cleared(&d.desk.label, len(g.v)), d.desk.stack
	defer func() { d.desk.stack = stack }()
	var list []edit
	for i := range g.v {
		if g.v[i] == c.v[i] || label[i] != 0 {
			continue
		}
		e := edit{gain: c.v[i] > g.v[i], x0: g.w, y0: g.h}
		own := int32(len(list) + 1)
		label[i] = own
		for stack = append(stack[:0], i); len(stack) > 0; {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			e.add(g, c, k)
			for _, n := range around(k, g.w) {
				if label[n] == 0 && g.v[n] != c.v[n] && c.v[n] > g.v[n] == e.gain {
					label[n] = own
					stack = append(stack, n)
				}
			}
		}
		list = append(list, e)
	}
	return list
}

func (e *edit) add(g, c *plane, k int) {
	x, y := k%g.w, k/g.w
	e.pixels = append(e.pixels, k)
	e.change += abs(int(g.v[k]) - int(c.v[k]))
	if hard(g.v[k], c.v[k]) {
		e.hard++
	}
	e.x0, e.y0, e.x1, e.y1 = min(e.x0, x), min(e.y0, y), max(e.x1, x+1), max(e.y1, y+1)
}

// hard says that a pixel turned from ink to white or back.
func hard(a, b uint8) bool {
	return (a >= 128) != (b >= 128) && abs(int(a)-int(b)) >= turnedShare*256
}

// around gives the eight neighbours; the first four share a side.
func around(k, w int) [8]int {
	return [8]int{k - 1, k + 1, k - w, k + w, k - w - 1, k - w + 1, k + w - 1, k + w + 1}
}

func abs(n int) int { return max(n, -n) }
