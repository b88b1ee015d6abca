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
	px, by := float64(off), Move{DX: off}
	if s.bar {
		by = Move{DY: off}
	}
	return Finding{
		Kind: Moved, Severity: min(Major, severityOf(StemWeight, math.Abs(px)*minutes)), MeasurePx: px, Move: by,
		Score: a.j.eye.area * coherentGain * math.Abs(px) * (s.to - s.from),
		Place: a.p.place(box{l.x0 + by.DX, l.y0 + by.DY, max(l.x1, l.x0+1) + by.DX, max(l.y1, l.y0+1) + by.DY}, what),
		Text:  what + " stands " + asideBy(px, s.bar) + " than in the outline",
	}
}

// inked says that some line along a stroke, no further aside than hints carry
// it, has a run of ink as long as most of it. The run may lie further along, as
// where hints moved the whole letter.
func (p *plane) inked(s *stroke) bool {
	wide := choose(s.bar, p.h, p.w)
	for c := max(0, int(math.Floor(s.lo-strayPx))); c <= min(wide-1, int(math.Floor(s.hi+strayPx))); c++ {
		if from, to := p.inkRun(s.bar, c); float64(to-from) >= (1-lostShare)*s.own {
			return true
		}
	}
	return false
}

// inkRun is the longest run of ink in a column, or in a row.
func (p *plane) inkRun(row bool, c int) (from, to int) {
	step, line, long := 1, p.w, p.h
	if row {
		step, line, long = line, step, p.w
	}
	n := 0
	for a := range long {
		if n++; !p.ink(a*line + c*step) {
			n = 0
		}
		if n > to-from {
			from, to = a-n+1, a+1
		}
	}
	return from, to
}

// strayed is by how many pixels a stroke stands aside that hints carried further than
// they may: there is ink as long beside it that nothing in the outline accounts for.
// 0 where there is none.
func (a *alone) strayed(s *stroke) int {
	middle := (s.lo + s.hi) / 2
	for off := 2; float64(off) <= max(2, astrayEm*a.d.em); off++ {
		for _, way := range [...]int{1, -1} {
			c := choose(way > 0, int(math.Floor(middle))+off, int(math.Ceil(middle))-1-off)
			from, to := a.beside(s, c)
			if from == to || a.accounted(s.bar, c, from, to) {
				continue
			}
			last := c
			for from, to := a.beside(s, last+way); from < to; from, to = a.beside(s, last+way) {
				last += way
			}
			return int(math.Round(float64(c+last+1)/2 - middle))
		}
	}
	return 0
}

// beside is the longest run of ink in a line along a stroke, if it goes beside most of it.
func (a *alone) beside(s *stroke, c int) (from, to int) {
	if c < 0 || c >= choose(s.bar, a.p.h, a.p.w) {
		return 0, 0
	}
	from, to = a.p.inkRun(s.bar, c)
	if min(float64(to), s.to)-max(float64(from), s.from) < (1-lostShare)*s.own {
		return 0, 0
	}
	return from, to
}

// accounted says that the outline runs along most of a run of ink in a column, or in a row.
func (a *alone) accounted(row bool, c, from, to int) bool {
	n := 0
	for i := from; i < to; i++ {
		x, y := float64(c)+0.5, float64(i)+0.5
		if row {
			x, y = y, x
		}
		if _, ok := a.d.beside(x, y); ok {
			n++
		}
	}
	return 2*n >= to-from
}
