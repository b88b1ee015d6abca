package diff

import "math"

// serif is a foot or a head that a stem stands on: the run of ink at its end,
// reaching past it alike on both sides.
type serif struct {
	box  // the run, from the end of the letter to where the stem is bare
	stem limb
}

// serifs names serifs that were even and are so no more.
func (k *trial) serifs() {
	for _, l := range k.limbs {
		if l.bar || l.course != nil {
			continue
		}
		p, _ := k.sides(l.candidate)
		for _, up := range []bool{false, true} {
			if s, ok := p.serif(l.limb, up); ok {
				k.serif(s, l.candidate)
			}
		}
	}
}

// serif reads the end of a stem. Overhangs may differ by a pixel, or the
// longer by half of the shorter, and still be alike.
func (p *plane) serif(stem limb, up bool) (serif, bool) {
	y, step := stem.y0, -1
	if up {
		y, step = stem.y1-1, 1
	}
	s := serif{stem: stem, box: box{stem.x0, y, stem.x1, y + 1}}
	for ; y >= 0 && y < p.h && p.solid(box{stem.x0, y, stem.x1, y + 1}); y += step {
		x0, x1 := stem.x0, stem.x1
		for p.ink(y*p.w + x0 - 1) {
			x0--
		}
		for p.ink(y*p.w + x1) {
			x1++
		}
		s.grow(box{x0, y, x1, y + 1})
	}
	for x := s.x0; x < s.x1; x++ {
		if y >= 0 && y < p.h && p.ink(y*p.w+x) {
			return s, false // the letter goes on
		}
	}
	left, right := stem.x0-s.x0, s.x1-stem.x1
	short, long := min(left, right), max(left, right)
	if short < 1 || long-short > max(1, short/2) || long > 3*stem.thickness()+1 || s.height() > max(4, long+1) {
		return s, false
	}
	return s, true
}

// tipGone says that the other drawing has no ink where a side of the serif
// ends: a pixel in its bracket makes no half of a serif longer.
func (k *trial) tipGone(s serif, left, candidate bool) bool {
	_, lacks := k.sides(candidate)
	x := choose(left, s.x0, s.x1-1)
	for y := s.y0; y < s.y1; y++ {
		if lacks.ink(y*lacks.w + x) {
			return false
		}
	}
	return true
}

// serif claims what one side of a serif gained or lost where the other side is
// as it was.
func (k *trial) serif(s serif, candidate bool) {
	side := func(x0, x1 int) (list []int, net float64) {
		list = k.changedIn(box{x0, max(0, s.y0-1), x1, min(k.d.golden.h, s.y1+1)})
		for _, i := range list {
			net += k.signed(i)
		}
		return list, net
	}
	left, l := side(s.x0-1, s.stem.x0)
	right, r := side(s.stem.x1, s.x1+1)
	list, net, what := left, l, "left"
	if math.Abs(r) > math.Abs(l) {
		list, net, what = right, r, "right"
	}
	if len(left) > 0 && len(right) > 0 || net == 0 || (net > 0) != candidate && math.Abs(net) < 1 {
		return
	}
	if !k.tipGone(s, what == "left", candidate) {
		return
	}
	rows := map[int]bool{}
	for _, i := range list {
		rows[i/k.d.golden.w] = true
	}
	px := net / float64(len(rows)) // how much shorter, or longer, on the whole
	k.claim(Finding{
		Kind: SerifUneven, Severity: severityOf(SerifUneven, math.Abs(px)*k.j.eye.minutesX),
		MeasurePx: px, Place: Place{What: what + " serif"},
		Text: what + " half of the serif " + choose(net > 0, "grew", "lost") + " " + pixelCount(len(list)) + "; the other half did not",
	}, list)
}
