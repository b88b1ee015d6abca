package diff

import "math"

// end says of the ink of a row at the top or bottom of a letter whether one of
// its runs is that of a flat end, or all are caps of rounds; neither where the
// outline ends elsewhere, or in corners. What reaches over, as the tips of serifs of C and S do that end
// between the alignment row and the rounds, is no flat end where it is narrower than stems, and ends none.
func (d *outline) end(has *plane, row int, top bool, over func(float64) bool) (flat, round bool) {
	if d == nil || math.Abs(choose(top, d.top-float64(row+1), d.bottom-float64(row))) > 1+strayPx {
		return false, false
	}
	round = true
	for x := 0; x < has.w; x++ {
		from := x
		for has.ink(row*has.w + x) {
			x++
		}
		if x == from {
			continue
		}
		switch c := d.crest(float64(from), float64(x), top, over); {
		case c.flats > 1 || d.flatOver(float64(from), float64(x), top, over) > tipEm*d.em:
			return true, false
		case over(c.high) && !has.headOfStem(from, x, row, top):
		case c.cliffs == 2 || c.cliffs == 1 && c.kind == Edge:
			return true, false
		case c.fall > gentleFall:
			round = false
		}
	}
	return false, round
}

// headOfStem says that ink goes on from a run at an end of a letter, straight through half of it.
func (p *plane) headOfStem(from, to, row int, top bool) bool {
	bottom, high := p.rows()
	step := choose(top, -1, 1)
	for x := from; x < to; x++ {
		n := 0
		for y := row; y >= bottom && y < high && p.ink(y*p.w+x); y += step {
			n++
		}
		if 2*n >= high-bottom {
			return true
		}
	}
	return false
}

// crest is the highest place of an outline within some columns, or, upside down,
// the lowest.
type crest struct {
	high   float64 // row of the plane
	kind   Kind    // of the outline there
	flats  int     // columns over flat edges that end the letter as well, and do not reach over
	cliffs int     // sides on which it ends at once
	fall   float64 // slope on its steeper side
}

func (d *outline) crest(from, to float64, top bool, over func(float64) bool) crest {
	const step = 0.25 // pixels
	c, at, high := crest{}, from, math.Inf(-1)
	for beside := 0.0; beside <= strayPx && high < choose(top, d.top, -d.bottom)-overshootEm*d.em-strayPx; beside += strayPx / 2 {
		for x := from - beside; x <= to+beside; x += step {
			if h, kind := d.height(x, top); h > high {
				at, high, c.kind = x, h, kind
			}
		}
	}
	row := func(h float64) float64 { return choose(top, h, -h) }
	c.high = row(high)
	if math.IsInf(high, 0) {
		return c
	}
	for x := from + 0.5; x < to; x++ {
		if h, kind := d.height(x, top); kind == Edge && high-h <= overshootEm*d.em && !over(row(h)) {
			c.flats++
		}
	}
	for _, way := range [...]float64{-step, step} {
		x, h := at, high
		for high-h <= flatEm*d.em {
			x += way
			h, _ = d.height(x, top)
		}
		beside, _ := d.height(x+math.Copysign(capEm*d.em, way), top)
		fall := (high - beside) / (capEm * d.em)
		if c.fall = max(c.fall, fall); fall > cliffFall {
			c.cliffs++
		}
	}
	return c
}

// flatOver is the length of the flat edges that reach over at the end of some columns.
func (d *outline) flatOver(from, to float64, top bool, over func(float64) bool) (length float64) {
	for _, p := range d.segments {
		x0, x1 := min(p.x0, p.x1), max(p.x0, p.x1)
		if p.kind != Edge || x1 <= from-strayPx || x0 >= to+strayPx || math.Abs(p.y1-p.y0) > x1-x0 || !over(min(p.y0, p.y1)) && !over(max(p.y0, p.y1)) {
			continue
		}
		if h, _ := d.height((x0+x1)/2, top); math.Abs(choose(top, h, -h)-(p.y0+p.y1)/2) < inLinePx { // else it lies within
			length += x1 - x0
		}
	}
	return length
}

// height is the highest place of the outline in a column, or, upside down, the
// lowest, and its kind; below all where there is none.
func (d *outline) height(x float64, top bool) (high float64, kind Kind) {
	high = math.Inf(-1)
	for _, p := range d.segments {
		if x < min(p.x0, p.x1) || x > max(p.x0, p.x1) || p.x0 == p.x1 {
			continue
		}
		y := p.y0 + (p.y1-p.y0)*(x-p.x0)/(p.x1-p.x0)
		if y = choose(top, y, -y); y > high {
			high, kind = y, p.kind
		}
	}
	return high, kind
}
