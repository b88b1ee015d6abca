package bytecode

// Zone is a set of points that instructions move: a glyph's, or the twilight zone.
type Zone struct {
	Unscaled []Vec // in font units; as Original for a composite
	Original []Vec // scaled, before any instruction
	Current  []Vec
	OnCurve  []bool
	Touched  []Touch
	Ends     []int // last point of each contour
}

// Touch says along which axes an instruction has placed a point.
type Touch uint8

// The axes of Touch.
const (
	TouchX Touch = 1 << iota
	TouchY
)

// Resize makes room for n points, all zero and untouched.
func (z *Zone) Resize(n int) {
	for _, s := range []*[]Vec{&z.Unscaled, &z.Original, &z.Current} {
		if cap(*s) < n {
			*s = make([]Vec, n)
		}
		*s = (*s)[:n]
		clear(*s)
	}
	if cap(z.OnCurve) < n {
		z.OnCurve, z.Touched = make([]bool, n), make([]Touch, n)
	}
	z.OnCurve, z.Touched = z.OnCurve[:n], z.Touched[:n]
	clear(z.OnCurve)
	clear(z.Touched)
}

func (z *Zone) has(p int32) bool { return p >= 0 && int(p) < len(z.Current) }
