package diff

import "math"

// tensor is the structure tensor of the pixels about one: sums of products of the
// steps in coverage along X and Y.
type tensor struct{ xx, yy, xy int }

func (t *tensor) add(o tensor) { t.xx, t.yy, t.xy = t.xx+o.xx, t.yy+o.yy, t.xy+o.xy }
func (t *tensor) sub(o tensor) { t.xx, t.yy, t.xy = t.xx-o.xx, t.yy-o.yy, t.xy-o.xy }

// edge is the angle of the edge nearby and how straight it is, 0 to 1. Where all is
// of one colour nothing is straight.
func (t tensor) edge() (theta, straight float64) {
	if t.xx+t.yy == 0 {
		return math.Pi / 4, 0
	}
	a, b := float64(t.xx-t.yy), 2*float64(t.xy)
	return math.Atan2(b, a) / 2, math.Hypot(a, b) / float64(t.xx+t.yy)
}

// about is how far from a pixel its tensor reaches, each way.
const about = 3

// column is the tensor of the pixels of one column about row y.
func (p *plane) column(x, y int) (t tensor) {
	for j := max(1, y-about); j <= min(p.h-2, y+about); j++ {
		k := j*p.w + x
		gx := int(p.v[k+1]) - int(p.v[k-1])
		gy := int(p.v[k+p.w]) - int(p.v[k-p.w])
		t.add(tensor{gx * gx, gy * gy, gx * gy})
	}
	return t
}

// direction is the edge near a pixel.
func (p *plane) direction(x, y int) (theta, straight float64) {
	var t tensor
	for i := max(1, x-about); i <= min(p.w-2, x+about); i++ {
		t.add(p.column(i, y))
	}
	return t.edge()
}

// tensors gives those of a whole row, each column summed once.
func (p *plane) tensors(y int, columns, row *[]tensor) []tensor {
	c, out := cleared(columns, p.w), cleared(row, p.w)
	for x := 1; x <= p.w-2; x++ {
		c[x] = p.column(x, y)
	}
	var t tensor
	for x := -about; x < p.w; x++ {
		if x+about < p.w {
			t.add(c[x+about])
		}
		if x > about {
			t.sub(c[x-about-1])
		}
		if x >= 0 {
			out[x] = t
		}
	}
	return out
}
