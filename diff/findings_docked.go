package diff

import (
	"math"
	"strings"
)

// docked names what moved against a letter that is as it was, such as its accent, and runs
// into it by that; or, the other way about, parts from it. The pixels alone say that two
// strokes run together, or that one is parted.
func (k *trial) docked() {
	g, c := &k.d.golden, &k.d.candidate
	switch n, m := len(k.golden.ink), len(k.candidate.ink); {
	case n > m:
		k.dock(g, c, k.golden.ink, Bridge)
	case m > n:
		k.dock(c, g, k.candidate.ink, Break)
	}
}

// dock tries each part of the drawing that has more of them, then all but the largest together, and
// the largest last: a letter may move into its accent.
func (k *trial) dock(apart, joined *plane, parts []part, kind Kind) {
	names := nameParts(parts, k.p.Golden.Advance, k.p.Golden.Code)
	main := largest(parts)
	var all part
	for i := range parts {
		if i == main {
			continue
		}
		all.pixels = append(all.pixels, parts[i].pixels...)
		if s, ok := apart.dockedBy(joined, &parts[i]); ok {
			k.claimDocked(kind, names[i], s, parts[i].pixels)
			return
		}
	}
	if len(parts) > 2 {
		if s, ok := apart.dockedBy(joined, &all); ok {
			k.claimDocked(kind, namesOf(append(names[:main:main], names[main+1:]...)), s, all.pixels)
			return
		}
	}
	if s, ok := apart.dockedBy(joined, &parts[main]); ok {
		k.claimDocked(kind, names[main], s, parts[main].pixels)
	}
}

// claimDocked names pixels of the drawing that has them apart, which the other has so far off.
func (k *trial) claimDocked(kind Kind, what string, s Move, pixels []int) {
	by := s
	if kind == Break {
		by = Move{-s.DX, -s.DY}
	}
	step := s.DY*k.d.golden.w + s.DX
	var changed []int
	for _, i := range pixels {
		changed = append(changed, i, i+step)
	}
	if changed = k.unclaimed(changed); len(changed) == 0 {
		return
	}
	px, _ := k.j.eye.moved(by)
	rest := choose(strings.Contains(what, "accent"), "letter", choose(what == "letter", "accent", "rest"))
	k.claim(Finding{
		Kind: kind, Severity: severityOf(kind, math.Min(k.j.eye.minutesX, k.j.eye.minutesY)), MeasurePx: px, Move: by,
		Place: Place{What: what}, Text: movedText(what, by) + " and " + choose(kind == Bridge, "run", "part") +
			choose(strings.HasSuffix(what, "s"), "", "s") + choose(kind == Bridge, " into the ", " from the ") + rest,
	}, changed)
}

// dockedBy is the shift by which another drawing has a part of this one, where it has all the
// rest as it is, and no more.
func (p *plane) dockedBy(joined *plane, q *part) (s Move, ok bool) {
	own := make(map[int]bool, len(q.pixels))
	for _, i := range q.pixels {
		own[i] = true
	}
	var fresh []int // ink that the shifted part must account for
	for i := range p.v {
		switch rest := p.ink(i) && !own[i]; {
		case rest && !joined.ink(i):
			return s, false
		case !rest && joined.ink(i):
			if fresh = append(fresh, i); len(fresh) > len(q.pixels) {
				return s, false
			}
		}
	}
	if len(fresh) == 0 {
		return s, false
	}
	nearest := math.MaxInt
	for dy := -shiftReach; dy <= shiftReach; dy++ {
		for dx := -shiftReach; dx <= shiftReach; dx++ {
			if far := dx*dx + dy*dy; far < nearest && p.shifted(joined, q, own, fresh, dy*p.w+dx) {
				s, ok, nearest = Move{dx, dy}, true, far
			}
		}
	}
	return s, ok
}

// shifted says that a part, so many pixels on, is ink of another drawing and all that is fresh there.
func (p *plane) shifted(joined *plane, q *part, own map[int]bool, fresh []int, step int) bool {
	for _, i := range fresh {
		if !own[i-step] {
			return false
		}
	}
	for _, i := range q.pixels {
		if j := i + step; j < 0 || j >= len(joined.v) || !joined.ink(j) {
			return false
		}
	}
	return true
}
