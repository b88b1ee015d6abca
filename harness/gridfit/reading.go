package gridfit

import (
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// reading is the simple glyphs of a face as they were read, for the next size. A face has as many points as its file
// has bytes, some; what there is no room for is read again.
type reading struct {
	face   *face.TrueType
	at     []int32 // by glyph, its place in glyphs, or 0
	glyphs []face.Glyph
	x, y   []glyph.FUnit
	on     []bool
	ends   []int
}

// Room for points and contours: that of the largest Latin faces, and two megabytes.
const (
	mostPointsRead   = 1 << 17
	mostContoursRead = mostPointsRead / 8
)

// begin forgets the glyphs of another face.
func (r *reading) begin(f *face.TrueType) {
	if r.face == f {
		return
	}
	if r.x == nil {
		r.x, r.y = make([]glyph.FUnit, 0, mostPointsRead), make([]glyph.FUnit, 0, mostPointsRead)
		r.on, r.ends = make([]bool, 0, mostPointsRead), make([]int, 0, mostContoursRead)
	}
	if n := f.NumGlyphs(); n <= cap(r.at) {
		r.at = r.at[:n]
		clear(r.at)
	} else {
		r.at = make([]int32, n)
	}
	r.face, r.glyphs = f, append(r.glyphs[:0], face.Glyph{})
	r.x, r.y, r.on, r.ends = r.x[:0], r.y[:0], r.on[:0], r.ends[:0]
}

// of gives a glyph, in g if it is not known.
func (r *reading) of(index int, g *face.Glyph) (*face.Glyph, error) {
	if uint(index) < uint(len(r.at)) && r.at[index] != 0 {
		return &r.glyphs[r.at[index]], nil
	}
	if err := r.face.ReadGlyph(g, index); err != nil {
		return nil, err
	}
	points, contours := len(g.X), len(g.Ends)
	if points > 0 && len(r.x)+points <= cap(r.x) && len(r.ends)+contours <= cap(r.ends) {
		r.keep(index, g)
	}
	return g, nil
}

func (r *reading) keep(index int, g *face.Glyph) {
	points, contours := len(r.x), len(r.ends)
	r.x, r.y, r.on, r.ends = append(r.x, g.X...), append(r.y, g.Y...), append(r.on, g.On...), append(r.ends, g.Ends...)
	r.at[index] = int32(len(r.glyphs))
	r.glyphs = append(r.glyphs, face.Glyph{
		XMin: g.XMin, YMin: g.YMin, XMax: g.XMax, YMax: g.YMax,
		X: r.x[points:], Y: r.y[points:], On: r.on[points:], Ends: r.ends[contours:], Instructions: g.Instructions,
	})
}
