package diff

import (
	"cmp"
	"slices"
)

// limb is a stroke of even weight: a stem, or lying down a bar.
type limb struct {
	box
	bar    bool
	own    int    // of its length, rows that no crossing stroke or notch widens
	course []span // where it leans or bends: its run on each line; nil where it is straight
}

func (l limb) length() int { return choose(l.bar, l.width(), l.height()) }

// thickness is that of a straight limb, and the mean of one that leans or bends.
func (l limb) thickness() int {
	if l.course == nil {
		return choose(l.bar, l.height(), l.width())
	}
	sum := 0
	for _, s := range l.course {
		sum += s.hi - s.lo
	}
	return (sum + len(l.course)/2) / len(l.course)
}

// stems finds the upright limbs of a drawing, left to right, of at least a
// share of the height of its largest part.
func (p *plane) stems(body *part) []limb {
	return p.strokes(max(minLimb, int(stemShare*float64(body.height())+0.5)))
}

// bars finds the lying limbs, bottom to top.
func (p *plane) bars(body *part, on *desk) []limb {
	q := p.transposed(on)
	list := q.strokes(max(minLimb, int(barShare*float64(body.width())+0.5)))
	for i, l := range list {
		list[i] = l.transposed()
	}
	return list
}

func (l limb) transposed() limb {
	return limb{box{l.y0, l.x0, l.y1, l.x1}, !l.bar, l.own, l.course}
}

// strokes finds the upright limbs of at least a length: the straight ones, and
// those that lean or bend unless they are a straight one with its ends.
func (p *plane) strokes(least int) []limb {
	list := p.limbs(least)
	straight := len(list)
	for _, c := range p.courses(least) {
		if !slices.ContainsFunc(list[:straight], func(s limb) bool { return s.covers(c) }) {
			list = append(list, c)
		}
	}
	return list
}

// limbs looks for upright strokes: stretches of rows whose runs of ink begin
// and end in the same columns, put together where a crossing stroke or a
// notch parts them.
func (p *plane) limbs(least int) []limb {
	list := make([]limb, 0, 4*p.h)
	for y := range p.h {
		for x0, x1 := range p.runs(y) {
			list = append(list, limb{box: box{x0, y, x1, y + 1}, own: 1})
		}
	}
	list = slices.DeleteFunc(p.mended(list), func(l limb) bool {
		return l.length() < least || float64(l.length()) < limbAspect*float64(l.thickness()) ||
			float64(l.own) < ownShare*float64(l.length())
	})
	list = apart(list)
	slices.SortFunc(list, func(a, b limb) int { return cmp.Or(a.x0-b.x0, a.y0-b.y0) })
	return list
}

// mended joins limbs of the same edges with nothing but ink between: those that
// follow each other, and those that a crossing stroke cut.
func (p *plane) mended(list []limb) []limb {
	slices.SortFunc(list, func(a, b limb) int { return cmp.Or(a.x0-b.x0, a.x1-b.x1, a.y0-b.y0) })
	out := list[:0]
	for _, l := range list {
		if n := len(out) - 1; n >= 0 && out[n].x0 == l.x0 && out[n].x1 == l.x1 && p.solid(box{l.x0, out[n].y1, l.x1, l.y0}) {
			out[n].y1 = l.y1
			out[n].own += l.own
			continue
		}
		out = append(out, l)
	}
	return out
}

// apart keeps, of limbs that lie over each other, the one with most of its own.
func apart(list []limb) []limb {
	slices.SortFunc(list, func(a, b limb) int { return cmp.Or(b.own-a.own, a.y0-b.y0, a.x0-b.x0) })
	var out []limb
	for _, l := range list {
		if !slices.ContainsFunc(out, func(o limb) bool { return o.covers(l) }) {
			out = append(out, l)
		}
	}
	return out
}

// covers says that half of the smaller of two limbs of one direction lies in both.
func (l limb) covers(o limb) bool {
	shared, mine, others := 0, 0, 0
	for n := range l.length() {
		lo, hi := l.across(n)
		mine += hi - lo
		if m := n + l.from() - o.from(); m >= 0 && m < o.length() {
			lo2, hi2 := o.across(m)
			shared += max(0, min(hi, hi2)-max(lo, lo2))
		}
	}
	for n := range o.length() {
		lo, hi := o.across(n)
		others += hi - lo
	}
	return shared > 0 && 2*shared >= min(mine, others)
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}
