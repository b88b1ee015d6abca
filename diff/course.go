package diff

import (
	"math"
	"slices"
)

// span is a run of ink across a stroke, half open.
type span struct{ lo, hi int }

// courses finds the upright strokes that lean or bend: runs of ink that follow
// each other from row to row and shift by a pixel at most at either end. Italic
// stems, arms and bowls are such.
func (p *plane) courses(least int) []limb {
	var open, next, done []limb
	for y := range p.h {
		next = next[:0]
		for x0, x1 := range p.runs(y) {
			next = append(next, follow(open, span{x0, x1}, y))
		}
		done = append(done, ended(open)...)
		open, next = next, open
	}
	var list []limb
	for _, l := range p.rejoined(append(done, ended(open)...)) {
		if l.own >= least && float64(l.length()) >= limbAspect*float64(l.thickness()) {
			list = append(list, l)
		}
	}
	return list
}

// follow continues the stroke whose last run is nearest in place, or begins one.
func follow(open []limb, s span, y int) limb {
	for i := range open {
		l := &open[i]
		if len(l.course) == 0 {
			continue // gone on already
		}
		if last := l.course[len(l.course)-1]; abs(last.lo-s.lo) <= 1 && abs(last.hi-s.hi) <= 1 && last.lo < s.hi && s.lo < last.hi {
			on := *l
			on.course, l.course = append(l.course, s), nil
			on.own++
			on.grow(box{s.lo, y, s.hi, y + 1})
			return on
		}
	}
	return limb{box: box{s.lo, y, s.hi, y + 1}, own: 1, course: []span{s}}
}

// ended gives the strokes that no run went on.
func ended(open []limb) []limb {
	var list []limb
	for _, l := range open {
		if len(l.course) > 0 {
			list = append(list, l)
		}
	}
	return list
}

// rejoined puts strokes together again that a crossing stroke parts: the ink
// between their ends is solid, and shorter than the strokes.
func (p *plane) rejoined(list []limb) []limb {
	slices.SortStableFunc(list, func(a, b limb) int { return a.y0 - b.y0 })
	var out []limb
	for _, l := range list {
		i := slices.IndexFunc(out, func(o limb) bool { return p.goesOn(o, l) })
		if i < 0 {
			out = append(out, l)
			continue
		}
		o := &out[i]
		for y := o.y1; y < l.y0; y++ {
			o.course = append(o.course, between(o, &l, y))
		}
		o.course = append(o.course, l.course...)
		o.own += l.own
		o.grow(l.box)
	}
	return out
}

// goesOn says that an upper stroke is the rest of a lower one.
func (p *plane) goesOn(lower, upper limb) bool {
	gap := upper.y0 - lower.y1
	if gap <= 0 || gap >= min(lower.own, upper.own) {
		return false
	}
	a, b := lower.course[len(lower.course)-1], upper.course[0]
	if most := gap + 2; abs(a.lo-b.lo) > most || abs(a.hi-b.hi) > most || abs((b.hi-b.lo)-(a.hi-a.lo)) > 1 {
		return false
	}
	for y := lower.y1; y < upper.y0; y++ {
		if s := between(&lower, &upper, y); !p.solid(box{s.lo, y, s.hi, y + 1}) {
			return false
		}
	}
	return true
}

// between is where a stroke would run on a row between the end of one piece and
// the beginning of the next.
func between(lower, upper *limb, y int) span {
	a, b := lower.course[len(lower.course)-1], upper.course[0]
	n, d := y-lower.y1+1, upper.y0-lower.y1+1
	return span{a.lo + (b.lo-a.lo)*n/d, a.hi + (b.hi-a.hi)*n/d}
}

// across is where a limb begins and ends across its n-th line.
func (l *limb) across(n int) (lo, hi int) {
	switch {
	case l.course != nil:
		return l.course[n].lo, l.course[n].hi
	case l.bar:
		return l.y0, l.y1
	}
	return l.x0, l.x1
}

// from is the line that a limb begins at.
func (l *limb) from() int { return choose(l.bar, l.x0, l.y0) }

// lean is the angle of a limb's chord off its axis; bend how far its middle
// goes from that chord, in pixels.
func (l *limb) lean() (theta, bend float64) {
	if l.course == nil {
		return 0, 0
	}
	middle := func(n int) float64 { return float64(l.course[n].lo+l.course[n].hi) / 2 }
	n := len(l.course) - 1
	slope := (middle(n) - middle(0)) / float64(max(1, n))
	for i := range l.course {
		bend = max(bend, math.Abs(middle(i)-middle(0)-slope*float64(i)))
	}
	return math.Abs(math.Atan(slope)), bend
}
