package diff

import (
	"iter"
	"math/bits"

	"smokeproof/harness/glyph"
)

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

// planes lays both bitmaps out on one box, the candidate moved, in
// the memory given.
func planes(a, b *glyph.Bitmap, by Move, in *[2][]uint8) (g, c plane) {
	boxes := make([]*glyph.Bitmap, 0, 2)
	s, t := a.Tight(), b.Tight()
	t.Left, t.Bottom = t.Left+by.DX, t.Bottom+by.DY
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
	unit, depth := 255/b.Max(), uint(b.Depth)
	for i := range b.Height {
		from := (b.Top()-1-i-p.y0)*p.w + b.Left - p.x0
		words, line := b.Row(i), p.v[from:from+b.Width]
		if depth == 1 {
			inked(line, words)
			continue
		}
		for k := range line {
			bit := uint(k) * depth
			line[k] = uint8(words[bit/64]>>(64-depth-bit%64)) & b.Max() * unit
		}
	}
	return p
}

// inked sets the pixels of a bilevel row that are on.
func inked(line []uint8, words []uint64) {
	for k, w := range words {
		for w != 0 {
			lead := bits.LeadingZeros64(w)
			line[k*64+lead] = 255
			w &^= 1 << (63 - lead)
		}
	}
}

// around gives the eight neighbours; the first four share a side.
func around(k, w int) [8]int {
	return [8]int{k - 1, k + 1, k - w, k + w, k - w - 1, k - w + 1, k + w - 1, k + w + 1}
}

// transposed swaps the axes, so that what holds for stems holds for bars.
func (p *plane) transposed(on *desk) plane {
	q := plane{p.y0, p.x0, p.h, p.w, cleared(&on.transposed, len(p.v))}
	for y := range p.h {
		for x := range p.w {
			q.v[x*q.w+y] = p.v[y*p.w+x]
		}
	}
	return q
}

// runs goes through the runs of ink in a row, left to right, half open.
func (p *plane) runs(y int) iter.Seq2[int, int] {
	return func(yield func(int, int) bool) {
		for x := 0; x < p.w; x++ {
			from := x
			for x < p.w && p.ink(y*p.w+x) {
				x++
			}
			if from < x && !yield(from, x) {
				return
			}
		}
	}
}

// solid says that there is nothing but ink in a box.
func (p *plane) solid(b box) bool {
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
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
