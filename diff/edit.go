package diff

// edit is a set of touching pixels that all lost ink, or all gained it.
type edit struct {
	box
	gain   bool
	pixels []int // indices into the plane
	change int   // sum of the coverage change, 255 a pixel
	hard   int   // pixels that turned from ink to white or back

	effect  effect // on the shape
	empties bool   // a limb goes with it
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
		e := edit{gain: c.v[i] > g.v[i], box: g.nowhere()}
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
	e.grow(box{x, y, x + 1, y + 1})
}

// hard says that a pixel turned from ink to white or back.
func hard(a, b uint8) bool {
	return (a >= 128) != (b >= 128) && abs(int(a)-int(b)) >= turnedShare*256
}
