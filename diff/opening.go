package diff

import (
	"math"
	"slices"
)

// large is the form laid out, and taken apart.
type large struct {
	plane
	strokes, counters []part // sizeable ones of ink and of white
}

// enlarged lays the form out once for one drawing: of an ideograph ten counters may be closed.
func (a *alone) enlarged() *large {
	if a.large == nil {
		p := a.form.plane(&a.j.desk)
		all := p.parts(&a.j.desk, 1)
		a.large = &large{p, sizeable(all.ink), sizeable(all.counters())}
	}
	return a.large
}

// opening is by how many pixels the outline leaves white open that a drawing shuts in:
// the narrowest place on the widest way out, of the white that is widest open.
func (a *alone) opening(shut []part) float64 {
	large := a.enlarged()
	widths := large.waysOut(&a.j.desk)
	widest := 0.0
	for _, q := range shut {
		var open []int
		for _, i := range q.pixels {
			if k, ok := a.onForm(i, large); ok && !large.ink(k) {
				open = append(open, int(widths[k]))
			}
		}
		if len(open) == 0 {
			return 1 // hints carried it to where the outline has no white
		}
		slices.Sort(open)
		widest = max(widest, float64(open[len(open)/2])/tenths)
	}
	_, em := FormPPEM.Float()
	return widest / em * a.em()
}

// white is a pixel of white well inside a counter; not open where most of it is ink. What
// stands in a counter, as the bar of a Theta, is no part of it.
func (a *alone) white(counter region) (pixel int, open bool) {
	large := a.enlarged()
	own := large.counters[counter.place]
	var white []int
	for _, k := range own.pixels {
		if i, ok := a.reduced(k, large); ok && !a.p.ink(i) {
			white = append(white, i)
		}
	}
	if 2*len(white) <= len(own.pixels) {
		return 0, false
	}
	ways := a.p.waysOut(&a.j.desk)
	slices.SortStableFunc(white, func(i, k int) int { return int(ways[i]) - int(ways[k]) })
	return white[len(white)/2], true
}

// gaps are where white leaves a counter whose stroke is broken: the narrowest places on
// its widest ways out, from a pixel of it. None where the way is wide everywhere.
func (a *alone) gaps(from int) []box {
	p := a.p
	ways := p.waysOut(&a.j.desk)
	width := ways[from]
	if width == 0 || width == 255 { // shut in after all, or wide open
		return nil
	}
	var gaps []box
	inside, list := map[int]bool{from: true}, []int{from}
	for len(list) > 0 {
		i := list[len(list)-1]
		list = list[:len(list)-1]
		for _, k := range [...]int{i - 1, i + 1, i - p.w, i + p.w} {
			switch {
			case ways[k] > width:
				gaps = p.gapAt(gaps, i)
			case ways[k] == width && !inside[k]:
				inside[k], list = true, append(list, k)
			}
		}
	}
	return gaps
}

// gapAt enters a pixel in the gap that it lies in or beside, or as a gap of its own.
func (p *plane) gapAt(gaps []box, i int) []box {
	pixel := box{i % p.w, i / p.w, i%p.w + 1, i/p.w + 1}
	for k := range gaps {
		if wide := gaps[k].wider(1); wide.touches(pixel) {
			gaps[k].grow(pixel)
			return gaps
		}
	}
	return append(gaps, pixel)
}

// between is a counter with the box of its gaps, where it has any.
func (a *alone) between(counter region, gaps []box) region {
	if len(gaps) == 0 {
		return counter
	}
	all := gaps[0]
	for _, g := range gaps[1:] {
		all.grow(g)
	}
	return a.region(part{box: all, pixels: []int{all.y0*a.p.w + all.x0}})
}

// onForm is where a pixel's centre lies in the form; not ok where that is outside of it.
func (a *alone) onForm(i int, large *large) (k int, ok bool) {
	x, y := a.aboutForm(i, large)
	all := large.all()
	return y*large.w + x, all.has(x, y)
}

// aboutForm is where a pixel's centre lies in the form, or beyond it.
func (a *alone) aboutForm(i int, large *large) (x, y int) {
	return int(math.Floor((float64(a.p.x0+i%a.p.w)+0.5)*float64(FormPPEM.X)/float64(a.ppem.X))) - large.x0,
		int(math.Floor((float64(a.p.y0+i/a.p.w)+0.5)*float64(FormPPEM.Y)/float64(a.ppem.Y))) - large.y0
}

// reduced is the pixel that the centre of one of the form lies in; not ok where that is outside of the plane.
func (a *alone) reduced(k int, large *large) (i int, ok bool) {
	x := int(math.Floor((float64(large.x0+k%large.w)+0.5)*float64(a.ppem.X)/float64(FormPPEM.X))) - a.p.x0
	y := int(math.Floor((float64(large.y0+k/large.w)+0.5)*float64(a.ppem.Y)/float64(FormPPEM.Y))) - a.p.y0
	all := a.p.all()
	return y*a.p.w + x, all.has(x, y)
}

// Ways are measured in tenths of a pixel, up to 25.5 of these.
const (
	tenths   = 10 // along a row or column
	diagonal = 14 // a step of both
)

// waysOut is, for each pixel of white, how wide its widest way out of the drawing is at its
// narrowest place; nothing for ink, and for white that is shut in.
func (p *plane) waysOut(on *desk) []uint8 {
	wide := p.clearances(on)
	way := cleared(&on.ways, len(p.v))
	var reached [256][]int
	enter := func(i int, width uint8) {
		if width > way[i] {
			way[i] = width
			reached[width] = append(reached[width], i)
		}
	}
	for i := range p.v {
		if x, y := i%p.w, i/p.w; x == 0 || y == 0 || x == p.w-1 || y == p.h-1 {
			enter(i, 255)
		}
	}
	for width := 255; width > 0; width-- {
		for len(reached[width]) > 0 {
			last := len(reached[width]) - 1
			i := reached[width][last]
			reached[width] = reached[width][:last]
			if int(way[i]) != width {
				continue
			}
			for _, k := range [...]int{i - 1, i + 1, i - p.w, i + p.w} {
				if k >= 0 && k < len(p.v) && !p.ink(k) {
					enter(k, min(uint8(width), wide[k]))
				}
			}
		}
	}
	return way
}

// clearances is, for each pixel of white, the shortest run of white through it between ink:
// along rows, columns and both diagonals.
func (p *plane) clearances(on *desk) []uint8 {
	wide := cleared(&on.clear, len(p.v))
	for i := range wide {
		wide[i] = 255
	}
	run, back := p.open(&on.runs), p.open(&on.back)
	for _, way := range [...]struct{ step, length int }{{1, tenths}, {p.w, tenths}, {p.w + 1, diagonal}, {p.w - 1, diagonal}} {
		for y := 1; y < p.h-1; y++ {
			for i := y*p.w + 1; i < (y+1)*p.w-1; i++ {
				run[i] = p.reach(i, run[i-way.step])
			}
		}
		for y := p.h - 2; y > 0; y-- {
			for i := (y+1)*p.w - 2; i > y*p.w; i-- {
				back[i] = p.reach(i, back[i+way.step])
				if n := (int(run[i]) + int(back[i]) - 1) * way.length; n < int(wide[i]) {
					wide[i] = uint8(max(0, n))
				}
			}
		}
	}
	return wide
}

// open is room for a number for each pixel; at the edge of the plane, where no ink is, as far as
// can be.
func (p *plane) open(in *[]uint8) []uint8 {
	run := cleared(in, len(p.v))
	for x := range p.w {
		run[x], run[len(run)-1-x] = 255, 255
	}
	for y := range p.h {
		run[y*p.w], run[y*p.w+p.w-1] = 255, 255
	}
	return run
}

// reach is how far white goes on from a pixel, by how far it does from the one before it.
func (p *plane) reach(i int, before uint8) uint8 {
	if p.ink(i) {
		return 0
	}
	return max(before, before+1) // at most 255
}
