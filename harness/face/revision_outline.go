package face

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// samePoints says that an outline is the old one, point for point.
func (r *Revision) samePoints(was, now *glyph.Outline) bool {
	return slices.Equal(was.Ends, now.Ends) && slices.EqualFunc(was.Points, now.Points, func(a, b glyph.Point) bool {
		return a.Kind == b.Kind && r.is(a.X, b.X) && r.is(a.Y, b.Y)
	})
}

// sameShape says that two outlines are one drawing, though their contours begin elsewhere, come in
// another order, or have points that tell nothing of it.
func sameShape(was, now *glyph.Outline) bool {
	return slices.EqualFunc(contours(was), contours(now), slices.Equal)
}

// contours lists the contours of an outline, each without what is implied and from its least point on,
// in order.
func contours(o *glyph.Outline) (list [][]glyph.Point) {
	from := 0
	for _, end := range o.Ends {
		list = append(list, fromLeast(bare(o.Points[from:end+1])))
		from = end + 1
	}
	slices.SortFunc(list, func(a, b []glyph.Point) int { return slices.CompareFunc(a, b, byPlace) })
	return list
}

func byPlace(a, b glyph.Point) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Kind, b.Kind))
}

// bare leaves out points that tell nothing of the shape: that the next one repeats, on the way along a straight line,
// and half-way between two control points of quadratics, which imply them.
func bare(ps []glyph.Point) (out []glyph.Point) {
	for i, p := range ps {
		a, b := ps[(i+len(ps)-1)%len(ps)], ps[(i+1)%len(ps)]
		if (p != b || len(ps) == 1) && !implied(a, p, b) {
			out = append(out, p)
		}
	}
	return out
}

// implied says that a curve goes through p by the points before and after it alone.
func implied(a, p, b glyph.Point) bool {
	if p.Kind != glyph.OnCurve || a.Kind != b.Kind {
		return false
	}
	switch a.Kind {
	case glyph.Quad:
		return a.X+b.X == 2*p.X && a.Y+b.Y == 2*p.Y
	case glyph.OnCurve:
		in, on := [2]int64{int64(p.X - a.X), int64(p.Y - a.Y)}, [2]int64{int64(b.X - p.X), int64(b.Y - p.Y)}
		return in[0]*on[1] == in[1]*on[0] && in[0]*on[0]+in[1]*on[1] > 0
	}
	return false
}

// fromLeast turns a contour so that it begins where it is least. Where it has that point several times, the rest
// decides; of a contour that has it very often, nothing does: the work would grow with the square of its points.
func fromLeast(ps []glyph.Point) []glyph.Point {
	const often = 64
	if len(ps) == 0 {
		return nil
	}
	least, best, tries := slices.MinFunc(ps, byPlace), []glyph.Point(nil), 0
	for i := 0; i < len(ps) && tries < often; i++ {
		if ps[i] != least {
			continue
		}
		tries++
		if turned := slices.Concat(ps[i:], ps[:i]); best == nil || slices.CompareFunc(turned, best, byPlace) < 0 {
			best = turned
		}
	}
	return best
}

// movedPoints says which points of a glyph's outline are elsewhere, where all of these moved alike; "" where
// they did not, or there are other points.
func movedPoints(name string, was, now *glyph.Outline) string {
	if !slices.Equal(was.Ends, now.Ends) || len(was.Points) != len(now.Points) {
		return ""
	}
	var by fixed.Point26_6
	var moved []string
	for i, p := range was.Points {
		q := now.Points[i]
		d := fixed.Point26_6{X: q.X - p.X, Y: q.Y - p.Y}
		switch {
		case p.Kind != q.Kind, d != (fixed.Point26_6{}) && len(moved) > 0 && d != by:
			return ""
		case d != (fixed.Point26_6{}):
			by, moved = d, append(moved, fmt.Sprint(i))
		}
	}
	const named = 3
	switch n := len(moved); {
	case n == 0:
		return ""
	case n == len(was.Points):
		return "the outline is moved " + way(by)
	case n == 1:
		return fmt.Sprintf("point %s of %s is moved %s", moved[0], name, way(by))
	case n <= named:
		return fmt.Sprintf("points %s and %s of %s are moved %s", strings.Join(moved[:n-1], ", "), moved[n-1], name, way(by))
	}
	return fmt.Sprintf("%d of the %d points of %s are moved %s", len(moved), len(was.Points), name, way(by))
}

// way is "60 units right and 1 up".
func way(by fixed.Point26_6) string {
	var list []string
	for _, d := range []struct {
		v           fixed.Int26_6
		more, fewer string
	}{{by.X, "right", "left"}, {by.Y, "up", "down"}} {
		if d.v == 0 {
			continue
		}
		n, where := units(max(d.v, -d.v)), d.more
		if d.v < 0 {
			where = d.fewer
		}
		if len(list) > 0 {
			list = append(list, fmt.Sprintf("%g %s", n, where))
		} else {
			list = append(list, counted(n)+" "+where)
		}
	}
	return strings.Join(list, " and ")
}

// counted is "1 unit", "2 units".
func counted(n float64) string {
	if n == 1 {
		return "1 unit"
	}
	return fmt.Sprintf("%g units", n)
}

// places are the flags of a component that say how it is placed.
const places = ArgsAreXY | RoundXYToGrid | UseMyMetrics | ScaledOffset

// isPlaced says that a component is the one that it was, in the same place.
func (r *Revision) isPlaced(was, now Component) bool {
	return r.isComponent(was, now) && r.isAt(was, now) && was.Flags&places == now.Flags&places
}

// copied says that a glyph is the other one under another index, and so is what it is made of: glyphs without names
// are known by that alone.
func (r *Revision) copied(was, now, depth int) bool {
	if uint(was) >= uint(len(r.oldParts)) || uint(now) >= uint(len(r.newParts)) || depth == 0 {
		return false
	}
	if r.oldParts[was] == r.newParts[now] {
		return true
	}
	at := [2]int{was, now}
	if known, ok := r.copies.Load(at); ok {
		return known.(bool)
	}
	var g, h Glyph
	is := r.old.(*TrueType).ReadGlyph(&g, was) == nil && r.now.(*TrueType).ReadGlyph(&h, now) == nil &&
		slices.Equal(g.X, h.X) && slices.Equal(g.Y, h.Y) && slices.Equal(g.On, h.On) && slices.Equal(g.Ends, h.Ends) && slices.Equal(g.Instructions, h.Instructions) &&
		slices.EqualFunc(g.Components, h.Components, func(a, b Component) bool {
			was, now := a.Index, b.Index
			a.Index, b.Index = 0, 0
			return a == b && r.copied(was, now, depth-1)
		})
	r.copies.Store(at, is)
	return is
}

// isComponent says that two components are of one glyph, drawn at one scale.
func (r *Revision) isComponent(was, now Component) bool {
	refs := r.now.Refs()
	if uint(now.Index) >= uint(len(refs)) {
		return false
	}
	index, ok := r.former(refs[now.Index])
	known := ok && index == was.Index || r.copied(was.Index, now.Index, maxDepth)
	return known && was.XX == now.XX && was.XY == now.XY && was.YX == now.YX && was.YY == now.YY
}

// isAt says that two components have one offset, or are placed by the same points.
func (r *Revision) isAt(was, now Component) bool {
	if was.Flags&now.Flags&ArgsAreXY == 0 {
		return was.Arg1 == now.Arg1 && was.Arg2 == now.Arg2 && (was.Flags^now.Flags)&ArgsAreXY == 0
	}
	return r.isFU(glyph.FUnit(was.Arg1), glyph.FUnit(now.Arg1)) && r.isFU(glyph.FUnit(was.Arg2), glyph.FUnit(now.Arg2))
}

// replaced says which component of a composite stands elsewhere, or is placed otherwise; "" where more than one is,
// or there are others.
func (r *Revision) replaced(was, now []Component) string {
	if len(was) != len(now) {
		return ""
	}
	text := ""
	for i, a := range was {
		b := now[i]
		if !r.isComponent(a, b) || text != "" && !r.isPlaced(a, b) {
			return ""
		}
		name := "component " + string(r.keyOf(b.Index))
		switch flags := (a.Flags ^ b.Flags) & places; {
		case r.isPlaced(a, b):
		case flags == 0:
			text = fmt.Sprintf("%s is moved %s", name, way(fixed.P(b.Arg1-a.Arg1, b.Arg2-a.Arg2)))
		case flags == RoundXYToGrid && r.isAt(a, b):
			text = name + " is placed on whole pixels"
			if b.Flags&RoundXYToGrid == 0 {
				text = name + " is placed on whole pixels no more (ROUND_XY_TO_GRID)"
			}
		default:
			return ""
		}
	}
	return text
}
