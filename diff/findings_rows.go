package diff

import (
	"math"
	"slices"
	"unicode"

	"smokeproof/harness/glyph"
)

// heights names a change of the highest or lowest row of the letter, and of what is under
// its accent or dot: the ink that one side has beyond the other. A dash keeps to no row: it
// is thicker.
func (k *trial) heights() {
	gb, gt := k.d.golden.rows()
	cb, ct := k.d.candidate.rows()
	if k.dash(gb, gt, false) && k.dash(cb, ct, true) {
		return
	}
	code := k.p.Golden.Code
	k.row(gt, ct, true, markAt(code, true))
	k.row(gb, cb, false, markAt(code, false))
	if g, c := k.golden.body(), k.candidate.body(); g != nil && c != nil && unicode.IsLetter(code) {
		if g.y1 < gt && c.y1 < ct {
			k.row(g.y1, c.y1, true, "")
		}
		if g.y0 > gb && c.y0 > cb {
			k.row(g.y0, c.y0, false, "")
		}
	}
}

// dash says that one bar is all that a side has between its lowest and highest row.
func (k *trial) dash(bottom, top int, candidate bool) bool {
	return slices.ContainsFunc(k.limbs, func(s namedLimb) bool {
		return s.bar && s.course == nil && s.candidate == candidate && s.y0 == bottom && s.y1 == top
	})
}

// row claims the changed pixels between the rows where both sides end, and where the whole
// end of the letter moved, all that changed with it. Mark is what reaches there if not the letter.
func (k *trial) row(golden, candidate int, top bool, mark string) {
	g := &k.d.golden
	y0, y1, moved := min(golden, candidate), max(golden, candidate), candidate-golden
	if moved == 0 {
		k.markAside(mark, golden, top)
		return
	}
	list := k.changedIn(box{0, y0, g.w, y1})
	has, _ := k.sides((moved > 0) == top)
	extreme, inner := y1-1, y0-1
	if !top {
		extreme, inner = y0, y1
	}
	if !k.turned(list) || has.rowInk(extreme) == 0 || inner < 0 || inner >= g.h {
		return
	}
	if mark != "" && (mark != horn || has.rightmost(extreme)) {
		k.markMoved(mark, list, k.end(golden, top, Move{DY: moved}, true), moved)
		return
	}
	f := Finding{Kind: Height, MeasurePx: float64(moved), Move: Move{DY: moved}, Place: Place{What: k.rowName(golden, top)}}
	if abs(moved) <= k.overshoot() && k.roundEnd(has, extreme, inner, top) {
		f.Kind = Overshoot
		f.Text = "round " + choose(top, "top", "bottom") + " reaches " + higherBy(float64(moved))
	} else {
		f.Text = f.Place.What + " " + higherBy(float64(moved))
	}
	f.Severity = severityOf(f.Kind, math.Abs(float64(moved))*k.j.eye.minutesY)
	k.claim(f, append(list, k.end(golden, top, Move{DY: moved}, false)...))
}

// overshoot is by how many rows rounds may reach further than flat ends; a
// letter that lost more has lost its tail.
func (k *trial) overshoot() int {
	bottom, top := k.d.golden.rows()
	em := float64(top - bottom)
	if k.p.PPEM.Y > 0 {
		_, em = k.p.PPEM.Float()
	}
	return int(math.Ceil(overshootEm * em))
}

// roundEnd says that the ink of an extreme row is that of rounds: by the outline
// under it where there is one, else by the bitmap.
func (k *trial) roundEnd(has *plane, extreme, inner int, top bool) bool {
	if flat, round := k.outline.end(has, extreme, top, k.over(top)); flat || round {
		return round
	}
	return has.rowInk(extreme) < 2 || has.round(extreme, inner)
}

// over says of a height, as a row of the plane, that it reaches over the alignment row of that end of the letter, as
// rounds do. Where no alignment row is at hand, nothing does.
func (k *trial) over(top bool) func(float64) bool {
	d, o := k.p.Design, k.outline
	if d == nil || o == nil {
		return nothing
	}
	end, least, limit := choose(top, o.top, o.bottom), math.Inf(1), math.Inf(choose(top, 1, -1))
	for _, z := range d.Zones {
		if z.Top != top || foreign(z, k.p.Golden.Code) || z.Flat == z.Over {
			continue
		}
		flat, over := k.d.golden.row(z.Flat, d.UPEM, k.p.PPEM), k.d.golden.row(z.Over, d.UPEM, k.p.PPEM)
		if off := math.Abs(end - over); off < least && off <= 1 {
			least, limit = off, flat+(over-flat)*overShare
		}
	}
	return func(high float64) bool { return choose(top, high > limit, high < limit) }
}

func nothing(float64) bool { return false }

// round says that an extreme row is made of caps of curves, but for tips: at
// both ends of their runs, the ink goes on in one of the two rows within.
func (p *plane) round(extreme, inner int) bool {
	next := (2*inner - extreme) * p.w
	wider := func(x int) bool {
		return p.ink(inner*p.w+x) || next >= 0 && next < len(p.v) && p.ink(next+x)
	}
	caps, all := 0, 0
	for x := 0; x < p.w; x++ {
		from := x
		for p.ink(extreme*p.w + x) {
			x++
		}
		all += x - from
		if x > from && wider(from-1) && wider(x) {
			caps += x - from
		}
	}
	return float64(caps) >= capShare*float64(all)
}

// end gives the changed pixels of the end of a letter that moved as a whole:
// of the rows that the golden's, shifted, explain best. Nil where it did not. Of a mark the
// joint to its letter too, where it moved into that.
func (k *trial) end(row int, top bool, by Move, joint bool) []int {
	g, c := &k.d.golden, &k.d.candidate
	bottom, high := g.rows()
	from, step := choose(top, row-1, row), choose(top, -1, 1)
	reach := max(3, (high-bottom)/3)
	differ, unexplained, best, bestGain := 0, 0, 0, 0
	for n := range reach {
		y := from + n*step
		if y < 0 || y >= g.h {
			break // a part may be lower than the letter's reach
		}
		for x := range g.w {
			i := y*g.w + x
			j := i + by.DY*g.w + by.DX
			if j < 0 || j >= len(c.v) {
				return nil
			}
			if k.changed(i) {
				differ++
			}
			if g.ink(i) != c.ink(j) {
				unexplained++
			}
		}
		if gain := differ - unexplained; gain >= bestGain && float64(unexplained) <= (1-endShare)*float64(differ) {
			best, bestGain = n+1, gain
		}
	}
	if best < 2 || bestGain == 0 {
		return nil
	}
	y0, y1 := from, from+(best-1)*step
	list := k.changedIn(box{0, min(y0, y1, y0+by.DY), g.w, max(y0, y1, y0+by.DY) + 1})
	if joint && by.DY*step > 0 {
		first := choose(top, min(y1-1, y0+by.DY), max(y1+1, y0+by.DY)) // of the rows that are no more the golden's end
		list = append(list, k.movedInto(first, y1+by.DY, by.DY)...)
	}
	return list
}

// movedInto gives the changed pixels of the rows of a letter that its end moved into.
func (k *trial) movedInto(from, to, moved int) (list []int) {
	g, c := &k.d.golden, &k.d.candidate
	for _, i := range k.changedIn(box{0, min(from, to), g.w, max(from, to) + 1}) {
		if g.ink(i-moved*g.w) == c.ink(i) {
			list = append(list, i)
		}
	}
	return list
}

// rowName is what a row is called: by the face's zones where they are at hand, else
// plainly.
func (k *trial) rowName(row int, top bool) string {
	plain := choose(top, "top row", "bottom row")
	d := k.p.Design
	if d == nil || d.UPEM == 0 {
		return plain
	}
	at := float64(row)
	if o := k.outline; o != nil { // ascender or cap height: the outline knows, where they share a row
		if end := choose(top, o.top, o.bottom); math.Abs(end-at) <= strayPx {
			at = end
		}
	}
	best, miss := plain, 1.5
	for _, z := range d.Zones {
		if z.Top != top || z.Name == "" || foreign(z, k.p.Golden.Code) {
			continue
		}
		if off := math.Abs(k.d.golden.row(z.Flat, d.UPEM, k.p.PPEM) - at); off < miss {
			best, miss = z.Name, off
		}
	}
	return best
}

// foreign says that a glyph keeps to no such row: letters have no figure height.
func foreign(z glyph.Zone, code rune) bool {
	return z.Name == "figure-height" && unicode.IsLetter(code)
}

// barRow names the alignment row that a bar reaches up to in the outline, flat or with the
// overshoot of a round; "" where there is none.
func (k *trial) barRow(s *namedLimb) string {
	l, d := k.mate(s).limb, k.p.Design
	if !s.bar || k.outline == nil {
		return ""
	}
	_, em := k.p.PPEM.Float()
	for _, z := range d.Zones {
		if !z.Top || z.Name == "" || z.Name == "x-height" && !unicode.IsLower(k.p.Golden.Code) {
			continue
		}
		row := k.d.golden.row(z.Flat, d.UPEM, k.p.PPEM)
		if k.outline.reaches(&l, row-rowEm*em, row+overshootEm*em) {
			return z.Name
		}
	}
	return ""
}
