package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// edgeAt is an extreme with its place at hand, as it is held against many.
type edgeAt struct {
	y fixed.Int26_6
	*extremeAt
}

// findTips lists the extremes that stand on rows, as zones and bars put them there, and must
// show; and those that do not.
func (f *Fitter) findTips() {
	f.free, f.standing, f.out.Tips = f.free[:0], f.standing[:0], f.out.Tips[:0]
	for i := range f.y.extremes {
		e := &f.y.extremes[i]
		if at := f.out.Points[e.point].Y; at != whole(at) {
			f.free = append(f.free, e)
			continue
		}
		f.standing = append(f.standing, edgeAt{e.y, e})
		f.out.Tips = append(f.out.Tips, glyph.Tip{Point: e.point, Top: e.of == face.GhostTop})
	}
}

// keepWhite moves what no hint holds off the row beside an edge that stands on one, where
// another contour has it and half a pixel of white or more lies between the two in the
// drawing: the tip of a caron would touch the bar of its t. It moves by half a pixel at most.
func (f *Fitter) keepWhite() {
	if len(f.measured) < 2 {
		return
	}
	near := fixed.Int26_6(2 * int64(pixel) * int64(pixel) * int64(f.y.scale.upem) / int64(max(1, f.y.scale.ppem))) // two pixels, in font units
	for _, e := range f.free {
		for _, o := range f.standing {
			if abs(o.y-e.y) < near && o.of != e.of && o.from != e.from && overlap(e, o.extremeAt) {
				f.keepOff(e, o.extremeAt)
			}
		}
	}
}

// keepOff moves an extreme, with the points beside it on its level, off the row that begins
// at another.
func (f *Fitter) keepOff(e, o *extremeAt) {
	away := fixed.Int26_6(1)
	if e.of == face.GhostTop {
		away = -1
	}
	row := f.out.Points[o.point].Y
	between, drawn := (f.out.Points[e.point].Y-row)*away, f.y.scale.of(e.y-o.y)*away
	if drawn < pixel/2 || between < 0 || between > pixel/2 {
		return
	}
	n := e.end - e.from
	for _, at := range [...]int{e.point, e.from + (e.point-e.from+1)%n, e.from + (e.point-e.from+n-1)%n} {
		if f.drawn.Points[at].Y == e.y {
			f.out.Points[at].Y = row + away*(pixel/2+1)
		}
	}
}

// overlap says that two extremes have a part of their levels one above the other.
func overlap(e, o *extremeAt) bool { return e.x0 <= o.x1 && o.x0 <= e.x1 }
