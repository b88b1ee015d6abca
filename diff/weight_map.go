package diff

// WeightMap holds importance, rows top to bottom, about the same origin as the
// bitmaps (Left, Bottom as in glyph.Bitmap).
type WeightMap struct {
	Left, Bottom, Width, Height int
	W                           []float64
}

// Weights is the importance map of a pair: for each pixel of the box that
// holds both bitmaps, how much its change would weigh. It is empty where one
// side is another drawing altogether.
func (j *Judge) Weights(p Pair) WeightMap {
	if flood(&p.Golden.Bitmap, &p.Candidate.Bitmap) != "" {
		return WeightMap{}
	}
	g, c := planes(&p.Golden.Bitmap, &p.Candidate.Bitmap, move{}, &j.desk.pair)
	m := WeightMap{
		Left: g.x0 + margin, Bottom: g.y0 + margin,
		Width: g.w - 2*margin, Height: g.h - 2*margin,
	}
	m.W = make([]float64, 0, m.Width*m.Height)
	changed := changedBox(&g, &c)
	on := &j.desk
	for y := m.Height - 1 + margin; y >= margin; y-- {
		was := g.tensors(y, &on.columns, &on.tensors[0])
		now := c.tensors(y, &on.columns, &on.tensors[1])
		for x := margin; x < m.Width+margin; x++ {
			k := y*g.w + x
			w := j.eye.importance(&g, k, was[x])
			if changed.near(x, y) {
				w = max(w, j.eye.importance(&c, k, now[x]))
			}
			m.W = append(m.W, w)
		}
	}
	return m
}

// changedArea holds every pixel in which two planes differ.
type changedArea struct{ x0, y0, x1, y1 int }

func changedBox(a, b *plane) changedArea {
	c := changedArea{x0: a.w, y0: a.h}
	for k, v := range a.v {
		if v != b.v[k] {
			x, y := k%a.w, k/a.w
			c.x0, c.y0 = min(c.x0, x), min(c.y0, y)
			c.x1, c.y1 = max(c.x1, x+1), max(c.y1, y+1)
		}
	}
	return c
}

// near says that the importance of a pixel may differ between the planes: it goes
// by the pixels up to four away.
func (c changedArea) near(x, y int) bool {
	return x >= c.x0-4 && x < c.x1+4 && y >= c.y0-4 && y < c.y1+4
}
