package bytecode

// Coords are the coordinates of some points, Y up: 26.6 pixels, or font units.
type Coords struct{ X, Y []F26Dot6 }

func (c *Coords) resize(n int) {
	c.X, c.Y = resized(c.X, n), resized(c.Y, n)
}

func (c *Coords) copyFrom(from *Coords) {
	copy(c.X, from.X)
	copy(c.Y, from.Y)
}

// resized is a slice of n values, in the old one's memory where it is enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/2)
	}
	return s[:n]
}

// Zone is a set of points that instructions move: a glyph's, or the twilight
// zone. Its slices of points are equally long.
type Zone struct {
	Unscaled Coords // in font units; as Original for a composite
	Original Coords // scaled, before any instruction
	Current  Coords
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

// Resize makes room for n points, none touched; where they are is to be set, and
// zero in a new zone. Ends is left alone.
func (z *Zone) Resize(n int) {
	z.Unscaled.resize(n)
	z.Original.resize(n)
	z.Current.resize(n)
	z.OnCurve, z.Touched = resized(z.OnCurve, n), resized(z.Touched, n)
	clear(z.Touched)
}

// first makes z the first n points of a zone, in the same memory.
func (z *Zone) first(n int, of *Zone) {
	z.Unscaled = of.Unscaled.first(n)
	z.Original = of.Original.first(n)
	z.Current = of.Current.first(n)
	z.OnCurve, z.Touched = of.OnCurve[:n], of.Touched[:n]
}

func (c *Coords) first(n int) Coords { return Coords{c.X[:n], c.Y[:n]} }

// copyPlaces takes over where a zone's points are; of the twilight zone, that is
// all that instructions ask about.
func (z *Zone) copyPlaces(from *Zone) {
	z.Original.copyFrom(&from.Original)
	z.Current.copyFrom(&from.Current)
}

// has says whether the zone has a point; no program is trusted to know.
func (z *Zone) has(p int) bool { return uint(p) < uint(len(z.Touched)) }

func (z *Zone) original(p int) Vec { return Vec{z.Original.X[p], z.Original.Y[p]} }
func (z *Zone) current(p int) Vec  { return Vec{z.Current.X[p], z.Current.Y[p]} }
func (z *Zone) unscaled(p int) Vec { return Vec{z.Unscaled.X[p], z.Unscaled.Y[p]} }

func (z *Zone) setOriginal(p int, v Vec) { z.Original.X[p], z.Original.Y[p] = v.X, v.Y }
func (z *Zone) setCurrent(p int, v Vec)  { z.Current.X[p], z.Current.Y[p] = v.X, v.Y }
