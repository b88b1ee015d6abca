package diff

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// joins names parts of the outline that are one part of the drawing, one finding
// for all that run together, and gives the parts that have no ink at all.
func (a *alone) joins(form []region, ink []part, draws []int, undrawn []region) (lacking []region) {
	within := make([][]region, len(ink))
	for _, r := range undrawn {
		k := a.mostOf(a.room(r), ink)
		if k < 0 {
			k = a.swallowed(r, undrawn, form, ink, draws)
		}
		if k >= 0 {
			within[k] = append(within[k], r)
		} else {
			lacking = append(lacking, r)
		}
	}
	for k, list := range within {
		if len(list) == 0 {
			continue
		}
		list = append(list, form[draws[k]]) // a part that draws none would draw the first of the list
		a.join = append(a.join, list)
		slices.SortStableFunc(list, func(r, o region) int { // the nameless one is the outline's largest
			return cmp.Or(-cmp.Compare(r.name, "")+cmp.Compare(o.name, ""), cmp.Compare(r.area, o.area))
		})
		box := list[0]
		for _, r := range list[1:] {
			if r.name != "" { // a letter is not framed with what runs into it
				box = box.with(r)
			}
		}
		gap, corner := a.gap(list), a.atCorners(&ink[k], list)
		var text string
		box.name, text = together(list, gap, corner)
		side := min(1, gap)
		if corner {
			side = max(0, side-cornerPx)
		}
		a.enter(Bridge, box, float64(len(list)-1), side, text)
	}
	return lacking
}

// gap is the white that the outline keeps between parts, in pixels, at the widest of the
// places where each comes nearest to another.
func (a *alone) gap(list []region) float64 {
	large, rims := a.rims(list)
	nearest := make([]int, len(list))
	for i := range nearest {
		nearest[i] = math.MaxInt
	}
	for i := range rims {
		for k := range i {
			least := max(nearest[i], nearest[k])
			if large.strokes[list[i].place].whiteTo(large.strokes[list[k].place].box) < least {
				least = large.between(rims[i], rims[k], least)
			}
			nearest[i], nearest[k] = min(nearest[i], least), min(nearest[k], least)
		}
	}
	_, em := FormPPEM.Float()
	return math.Sqrt(float64(slices.Max(nearest))) / em * a.em()
}

// rims are those of parts of the outline, in the form.
func (a *alone) rims(list []region) (large *large, rims [][]int) {
	large = a.enlarged()
	for _, r := range list {
		rims = append(rims, large.rim(&large.strokes[r.place]))
	}
	return large, rims
}

// rim is the pixels of a part of ink that have white beside them, row by row.
func (p *plane) rim(q *part) []int {
	rim := slices.DeleteFunc(slices.Clone(q.pixels), func(i int) bool {
		return p.ink(i-1) && p.ink(i+1) && p.ink(i-p.w) && p.ink(i+p.w)
	})
	slices.Sort(rim)
	return rim
}

// between is the square of the white between two rims where they come nearest to each other, in
// pixels, or least where that is less. Ideographs have twenty parts with long rims, so rows too far
// away to matter are passed over.
func (p *plane) between(a, b []int, least int) int {
	for _, i := range a {
		x, y := i%p.w, i/p.w
		reach := int(math.Sqrt(float64(least))) + 1
		from, _ := slices.BinarySearch(b, (y-reach)*p.w)
		for _, k := range b[from:] {
			if k >= (y+reach+1)*p.w {
				break
			}
			dx, dy := max(0, abs(x-k%p.w)-1), max(0, abs(y-k/p.w)-1)
			least = min(least, dx*dx+dy*dy)
		}
	}
	return least
}

// together names parts that run together, the smallest first, and says so.
func together(list []region, gap float64, corner bool) (what, text string) {
	apart := "the outline holds them apart"
	runs, into, there := " run together; ", " runs into the ", "; "
	if corner {
		runs, into, there = " touch at a corner; ", " touches the ", " at a corner; "
	}
	switch {
	case gap < 0.05:
	case len(list) == 2:
		apart = fmt.Sprintf("the outline holds them %.1f px apart", gap)
	case gap < 1:
		apart = fmt.Sprintf("the outline holds them %.1f px apart at most", gap)
	}
	if len(list) > 2 {
		what = fmt.Sprintf("%d parts", len(list))
		return what, what + runs + apart
	}
	what, other := list[0].name, list[1].name
	switch other {
	case "":
		return what, what + into + choose(strings.HasSuffix(what, "accent"), "letter", "rest") + there + apart
	case what:
		return what + "s", "two " + what + "s" + runs + apart
	}
	return what, what + " and " + other + runs + apart
}

// mostOf is the part with the most ink in a room; -1 where none has any.
func (a *alone) mostOf(room box, ink []part) int {
	best, most := -1, 0
	for k := range ink {
		if n := a.inkIn(room, &ink[k]); n > most {
			best, most = k, n
		}
	}
	return best
}

// inkIn counts the pixels of a part in a room.
func (a *alone) inkIn(room box, q *part) (n int) {
	for _, i := range q.pixels {
		if room.has(i%a.p.w, i/a.p.w) {
			n++
		}
	}
	return n
}

// swallowed is the part that hints carried a region into, beside where it should be or, where
// none is near, as far as they carry a stroke: it has ink between the place of the region and
// that of its own, or near by the ink of both. -1 where none has.
func (a *alone) swallowed(r region, undrawn, form []region, ink []part, draws []int) int {
	area := a.em() * a.em()
	for _, reach := range [...]float64{strayPx, astrayEm * a.d.em} {
		near, best, most := a.room(r).wider(int(math.Ceil(reach))), -1, 0
		for k := range ink {
			if n := a.inkIn(near, &ink[k]); n > most && draws[k] >= 0 {
				own := form[draws[k]]
				both := reach == strayPx && float64(len(ink[k].pixels)) >= (own.area+r.area)*area
				if both || a.inkBeyond(&ink[k], a.room(own), near, r) || reach == strayPx && a.allBeyond(&ink[k], own, r, undrawn) {
					best, most = k, n
				}
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}

// inkBeyond says that a part has ink beyond its own room, on the way to a region, as
// much as a third of that should have.
func (a *alone) inkBeyond(q *part, own, near box, r region) bool {
	n := 0
	for _, i := range q.pixels {
		if x, y := i%a.p.w, i/a.p.w; near.has(x, y) && !own.has(x, y) {
			n++
		}
	}
	return a.isMost(n, r)
}

// isMost says that so many pixels may be what hints left of a region.
func (a *alone) isMost(n int, r region) bool { return 3*float64(n) >= r.area*a.em()*a.em() }

// allBeyond says of what a part has above or below the whole pixels of its own region that it is near others there
// that nothing draws, and near one of them as much as a third of that should have: dots of a pixel that touch the
// round of their letter, within whose overshoot they lie.
func (a *alone) allBeyond(q *part, own, r region, undrawn []region) bool {
	near := func(r region, x, y int) bool {
		room := a.room(r).wider(int(math.Ceil(strayPx)))
		return room.has(x, y)
	}
	_, emY := a.ppem.Float()
	bottom, top := int(math.Round(own.y0*emY))-a.p.y0, int(math.Round(own.y1*emY))-a.p.y0
	n := 0
	for _, i := range q.pixels {
		x, y := i%a.p.w, i/a.p.w
		if beyond := r.y1 <= own.y0 && y < bottom || r.y0 >= own.y1 && y >= top; !beyond {
			continue
		}
		if !slices.ContainsFunc(undrawn, func(o region) bool { return near(o, x, y) }) {
			return false
		}
		if near(r, x, y) {
			n++
		}
	}
	return a.isMost(n, r)
}

// betweenJoined says that white is shut in by ink of two parts that run together:
// that is one fault, and has its name already.
func (a *alone) betweenJoined(q part) bool {
	for _, list := range a.join {
		parts := 0
		for _, r := range list {
			if a.besideWhite(&q, r) {
				parts++
			}
		}
		if parts > 1 {
			return true
		}
	}
	return false
}

// besideWhite says that white lies beside ink where a region should be.
func (a *alone) besideWhite(q *part, r region) bool {
	room := a.room(r).wider(int(math.Ceil(strayPx))) // hints may have carried it
	if !room.touches(q.wider(1)) {
		return false
	}
	for _, i := range q.pixels {
		for _, n := range around(i, a.p.w) {
			if a.p.ink(n) && room.has(n%a.p.w, n/a.p.w) {
				return true
			}
		}
	}
	return false
}

// room is where a region should be, in coordinates of the plane.
func (a *alone) room(r region) box {
	at := a.place(r)
	return box{at.X0 - a.p.x0, at.Y0 - a.p.y0, at.X1 - a.p.x0, at.Y1 - a.p.y0}
}
