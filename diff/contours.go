package diff

import (
	"math"
	"slices"
)

// contour is one of an outline's, point to point. A curve goes by its control points,
// which lie about it.
type contour []segment

// contours are those of an outline.
func (d *outline) contours() []contour {
	list := make([]contour, 0, len(d.ends))
	start := 0
	for _, end := range d.ends {
		list = append(list, d.segments[start:end])
		start = end
	}
	return list
}

// apart says that the outline itself holds what lies in a box apart from the rest: contours
// of their own draw it, none of which meets another. A gap of less than FormPPEM shows is
// a gap all the same, as between a letter and its accent.
func (d *outline) apart(b box) bool {
	all := d.contours()
	within := slices.DeleteFunc(slices.Clone(all), func(c contour) bool { return !c.within(b) })
	return len(within) > 0 && !slices.ContainsFunc(all, func(o contour) bool {
		return !o.within(b) && slices.ContainsFunc(within, o.meets)
	})
}

// within says that a contour lies in a box, or as near it as hints may have carried it.
func (c contour) within(b box) bool {
	return !slices.ContainsFunc(c, func(s segment) bool {
		return s.x0 < float64(b.x0)-strayPx || s.x0 > float64(b.x1)+strayPx ||
			s.y0 < float64(b.y0)-strayPx || s.y0 > float64(b.y1)+strayPx
	})
}

// meets says that two contours have a point in common.
func (c contour) meets(o contour) bool {
	for i := range c {
		for k := range o {
			if c[i].meets(&o[k]) {
				return true
			}
		}
	}
	return false
}

func (s *segment) meets(o *segment) bool {
	if max(s.x0, s.x1) < min(o.x0, o.x1) || max(o.x0, o.x1) < min(s.x0, s.x1) ||
		max(s.y0, s.y1) < min(o.y0, o.y1) || max(o.y0, o.y1) < min(s.y0, s.y1) {
		return false
	}
	return s.side(o.x0, o.y0)*s.side(o.x1, o.y1) <= 0 && o.side(s.x0, s.y0)*o.side(s.x1, s.y1) <= 0
}

// side is 1 for a place left of the way of a segment, -1 for one right of it, and 0 on its line.
func (s *segment) side(x, y float64) float64 {
	cross := (s.x1-s.x0)*(y-s.y0) - (s.y1-s.y0)*(x-s.x0)
	if cross == 0 {
		return 0
	}
	return math.Copysign(1, cross)
}
