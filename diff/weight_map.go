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
	g, c := planes(&p.Golden.Bitmap, &p.Candidate.Bitmap, Move{}, &j.desk.pair)
	m := WeightMap{
		Left: g.x0 + margin, Bottom: g.y0 + margin,
		Width: g.w - 2*margin, Height: g.h - 2*margin,
	}
	m.W = make([]float64, 0, m.Width*m.Height)
	// the importance of a pixel goes by those up to four away
	changed := changedBox(&g, &c).wider(about + 1)
	on := &j.desk
	for y := m.Height - 1 + margin; y >= margin; y-- {
		was := g.tensors(y, &on.columns, &on.tensors[0])
		now := c.tensors(y, &on.columns, &on.tensors[1])
		for x := margin; x < m.Width+margin; x++ {
			k := y*g.w + x
			w := j.importance(&g, k, was[x])
			if changed.has(x, y) {
				w = max(w, j.importance(&c, k, now[x]))
			}
			m.W = append(m.W, w)
		}
	}
	return m
}

// changedBox holds every pixel in which two planes differ.
func changedBox(a, b *plane) box {
	all := a.nowhere()
	for k, v := range a.v {
		if v != b.v[k] {
			x, y := k%a.w, k/a.w
			all.grow(box{x, y, x + 1, y + 1})
		}
	}
	return all
}
