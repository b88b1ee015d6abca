package diff

// box is a half-open box of pixels in plane coordinates.
type box struct{ x0, y0, x1, y1 int }

// nowhere is the box of no pixels, which grows from the first.
func (p *plane) nowhere() box { return box{x0: p.w, y0: p.h} }

// all is the box of the whole plane.
func (p *plane) all() box { return box{0, 0, p.w, p.h} }

func (b *box) width() int  { return b.x1 - b.x0 }
func (b *box) height() int { return b.y1 - b.y0 }

// grow makes a box hold another as well.
func (b *box) grow(o box) {
	b.x0, b.y0, b.x1, b.y1 = min(b.x0, o.x0), min(b.y0, o.y0), max(b.x1, o.x1), max(b.y1, o.y1)
}

// has says that a pixel lies in a box.
func (b *box) has(x, y int) bool { return x >= b.x0 && x < b.x1 && y >= b.y0 && y < b.y1 }

// wider is the box with some more pixels on every side.
func (b box) wider(by int) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

// touches says that two boxes have a pixel in common.
func (b *box) touches(o box) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

// whiteTo is the square of the distance between two boxes, in the pixels that lie between them.
func (b *box) whiteTo(o box) int {
	dx, dy := max(0, o.x0-b.x1, b.x0-o.x1), max(0, o.y0-b.y1, b.y0-o.y1)
	return dx*dx + dy*dy
}

// place is a box about the origin.
func (p *plane) place(b box, what string) Place {
	return Place{p.x0 + b.x0, p.y0 + b.y0, p.x0 + b.x1, p.y0 + b.y1, what}
}
