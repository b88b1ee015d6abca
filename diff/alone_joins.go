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
			k = a.swallowed(r, form, ink, draws)
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
		gap := a.gap(list)
		var text string
		box.name, text = together(list, gap)
		a.enter(Bridge, box, float64(len(list)-1), min(1, gap), text)
	}
	return lacking
}

// gap is the white that the outline keeps between parts, in pixels, at the widest of the
// places where each comes nearest to another.
func (a *alone) gap(list []region) float64 {
	large := a.enlarged()
	rims, nearest := make([][]int, len(list)), make([]int, len(list))
	for i, r := range list {
		rims[i], nearest[i] = large.rim(&large.strokes[r.place]), math.MaxInt
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
func together(list []region, gap float64) (what, text string) {
	apart := "the outline holds them apart"
	if len(list) == 2 && gap >= 0.05 {
		apart = fmt.Sprintf("the outline holds them %.1f px apart", gap)
	}
	if len(list) > 2 {
		what = fmt.Sprintf("%d parts", len(list))
		return what, what + " run together; " + apart
	}
	what, other := list[0].name, list[1].name
	switch other {
	case "":
		return what, what + " runs into the " + choose(strings.HasSuffix(what, "accent"), "letter", "rest") + "; " + apart
	case what:
		return what + "s", "two " + what + "s run together; " + apart
	}
	return what, what + " and " + other + " run together; " + apart
}

// mostOf is the part with the most ink in a room; -1 where none has any.
func (a *alone) mostOf(room box, ink []part) int {
	best, most := -1, 0
	for k := range ink {
		n := 0
		for _, i := range ink[k].pixels {
			if room.has(i%a.p.w, i/a.p.w) {
				n++
			}
		}
		if n > most {
			best, most = k, n
		}
	}
	return best
}

// swallowed is the part that hints carried a region into, beside where it should be: it has
// the ink of both, or ink between the place of the region and that of its own. -1 where none has.
func (a *alone) swallowed(r region, form []region, ink []part, draws []int) int {
	k := a.mostOf(a.room(r).wider(int(math.Ceil(strayPx))), ink)
	if k < 0 || draws[k] < 0 {
		return -1
	}
	spare := float64(len(ink[k].pixels)) - form[draws[k]].area*a.em()*a.em()
	if own := a.room(form[draws[k]]); spare < r.area*a.em()*a.em() && !a.inkBeyond(&ink[k], own, r) {
		return -1
	}
	return k
}

// inkBeyond says that a part has ink beyond its own room, on the way to a region, as
// much as half of that should have.
func (a *alone) inkBeyond(q *part, own box, r region) bool {
	near := a.room(r).wider(int(math.Ceil(strayPx)))
	n := 0
	for _, i := range q.pixels {
		if x, y := i%a.p.w, i/a.p.w; near.has(x, y) && !own.has(x, y) {
			n++
		}
	}
	return 2*float64(n) >= r.area*a.em()*a.em()
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
