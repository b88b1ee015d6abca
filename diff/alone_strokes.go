package diff

import (
	"fmt"
	"math"
)

// lostStrokes names the stems and bars of the outline that no line of ink is
// drawn for, within the reach of hints and rounding.
func (a *alone) lostStrokes(body *part) {
	for i := range a.d.strokes {
		s := &a.d.strokes[i]
		if math.IsInf(s.to, 0) || a.p.inked(s) {
			continue
		}
		l := limb{box: box{int(math.Round(s.lo)), int(math.Round(s.from)), int(math.Round(s.hi)), int(math.Round(s.to))}}
		kind, what, minutes := StemLost, "stem", a.j.eye.minutesX
		if s.bar {
			l = l.transposed()
			kind, what, minutes = BarLost, nameBar(l, body.y0, body.y1), a.j.eye.minutesY
		}
		if off := a.strayed(s); off != 0 {
			a.found = append(a.found, a.misplaced(s, l, what, off, minutes))
			continue
		}
		px := s.hi - s.lo
		a.found = append(a.found, Finding{
			Kind: kind, Severity: severityOf(kind, max(1, px)*minutes), MeasurePx: -px,
			Score: a.j.eye.area * (coherentGain + partedGain) * max(1, px) * (s.to - s.from),
			Place: a.p.place(box{l.x0, l.y0, max(l.x1, l.x0+1), max(l.y1, l.y0+1)}, what),
			Text:  fmt.Sprintf("%s has no ink; in the outline it is %.0f units thick, %s", what, s.width, pixels(px)),
		})
	}
}

// misplaced is the finding of a stroke that stands so many pixels off its place.
func (a *alone) misplaced(s *stroke, l limb, what string, off int, minutes float64) Finding {
	px, by := float64(off), box{off, 0, off, 0}
	if s.bar {
		by = box{0, off, 0, off}
	}
	return Finding{
		Kind: Moved, Severity: min(Major, severityOf(StemWeight, math.Abs(px)*minutes)), MeasurePx: px,
		Score: a.j.eye.area * coherentGain * math.Abs(px) * (s.to - s.from),
		Place: a.p.place(box{l.x0 + by.x0, l.y0 + by.y0, max(l.x1, l.x0+1) + by.x1, max(l.y1, l.y0+1) + by.y1}, what),
		Text:  what + " stands " + asideBy(px, s.bar) + " than in the outline",
	}
}

// inked says that some line along a stroke, no further aside than hints carry
// it, has a run of ink as long as most of it. The run may lie further along, as
// where hints moved the whole letter.
func (p *plane) inked(s *stroke) bool {
	wide := choose(s.bar, p.h, p.w)
	for c := max(0, int(math.Floor(s.lo-strayPx))); c <= min(wide-1, int(math.Floor(s.hi+strayPx))); c++ {
		if _, ok := p.inkedAlong(s, c); ok {
			return true
		}
	}
	return false
}

// inkedAlong says that a line along a stroke has a run of ink as long as most of it,
// and where along it the first such run begins.
func (p *plane) inkedAlong(s *stroke, c int) (from int, ok bool) {
	step, line, long := 1, p.w, p.h
	if s.bar {
		step, line, long = line, step, p.w
	}
	n := 0
	for a := range long {
		if n++; !p.ink(a*line + c*step) {
			n = 0
		}
		if float64(n) >= (1-lostShare)*s.own {
			return a - n + 1, true
		}
	}
	return 0, false
}

// strayed is by how many pixels a stroke stands aside that hints carried further than
// they may: there is a run of ink beside it that nothing in the outline accounts for.
// 0 where there is none.
func (a *alone) strayed(s *stroke) int {
	wide := choose(s.bar, a.p.h, a.p.w)
	for off := 2; off <= astrayPx; off++ {
		for _, off := range [...]int{off, -off} {
			c := int(math.Floor((s.lo+s.hi)/2)) + off
			if c < 0 || c >= wide {
				continue
			}
			if from, ok := a.p.inkedAlong(s, c); ok && float64(from) < s.to && float64(from)+s.own > s.from && !a.accounted(s, c, from) {
				return off
			}
		}
	}
	return 0
}

// accounted says that the outline runs along most of a run of ink on a line along a stroke.
func (a *alone) accounted(s *stroke, c, from int) bool {
	n, length := 0, int((1-lostShare)*s.own)
	for i := from; i < from+length; i++ {
		x, y := float64(c)+0.5, float64(i)+0.5
		if s.bar {
			x, y = y, x
		}
		if _, ok := a.d.beside(x, y); ok {
			n++
		}
	}
	return 2*n >= length
}
