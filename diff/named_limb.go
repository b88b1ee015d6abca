package diff

import (
	"math"
	"slices"
	"strings"
)

// namedLimb is a limb as one side drew it, with what a reader calls it.
type namedLimb struct {
	limb
	name      string
	kind      string  // stem, curve, diagonal or bar
	candidate bool    // found in the candidate
	weight    float64 // change in thickness, pixels
	finding   *int    // index of the finding of its weight, or nil
}

// namedLimbs lists the limbs of a drawing with their names.
func (on *desk) namedLimbs(p *plane, body *part, d *outline, candidate bool) []namedLimb {
	if body == nil {
		return nil
	}
	var list []namedLimb
	stems := p.outlined(p.stems(body), d, false)
	slices.SortStableFunc(stems, func(a, b limb) int { return a.x0 - b.x0 })
	for i, l := range stems {
		kind := l.shape(d)
		list = append(list, namedLimb{limb: l, kind: kind, name: strings.Replace(nameStem(i, len(stems)), "stem", kind, 1), candidate: candidate})
	}
	for _, l := range p.outlined(p.bars(body, on), d, true) {
		kind, name := "bar", nameBar(l, body.y0, body.y1)
		if shape := l.shape(nil); shape != "stem" {
			kind, name = shape, shape
		}
		list = append(list, namedLimb{limb: l, kind: kind, name: name, candidate: candidate})
	}
	return list
}

// shape is what a stroke is called: stem, curve or diagonal; of a straight one
// the outline on its left edge tells.
func (l *limb) shape(d *outline) string {
	if theta, bend := l.lean(); bend > bentPx {
		return "curve"
	} else if theta*180/math.Pi > leanDegrees {
		return "diagonal"
	}
	if l.course == nil {
		switch kind, _ := d.beside(float64(l.x0), float64(l.y0+l.y1)/2); kind {
		case Round:
			return "curve"
		case Diagonal:
			return "diagonal"
		}
	}
	return "stem"
}

// mate is the golden's limb that a candidate's limb is drawn for, or itself.
func (k *trial) mate(s *namedLimb) *namedLimb {
	for i := range k.limbs {
		if t := &k.limbs[i]; s.candidate && !t.candidate && t.bar == s.bar && t.covers(s.limb) {
			return t
		}
	}
	return s
}

// flank is what changed about a limb: inside it, and outward from its edges as far
// as the change reaches without a gap.
type flank struct {
	pixels     []int
	net, gross float64 // change of ink, pixels
	share      float64 // of the limb's length
}

func (k *trial) flank(l limb) (f flank) {
	touched := 0
	for n := range l.length() {
		before := len(f.pixels)
		f.pixels = k.besideLine(l, n, f.pixels)
		if len(f.pixels) > before {
			touched++
		}
	}
	for _, i := range f.pixels {
		f.net += k.signed(i)
		f.gross += math.Abs(k.signed(i))
	}
	f.share = float64(touched) / float64(l.length())
	return f
}

// besideLine adds the changed pixels of one line across a limb.
func (k *trial) besideLine(l limb, n int, list []int) []int {
	step, end := 1, k.d.golden.w
	if l.bar {
		step, end = k.d.golden.w, k.d.golden.h
	}
	lo, hi := l.across(n)
	zero := choose(l.bar, l.from()+n, (l.from()+n)*k.d.golden.w)
	reach := max(1, (l.thickness()+1)/2)
	if k.p.Golden.Bitmap.Depth > 1 || k.p.Candidate.Bitmap.Depth > 1 {
		reach++ // an edge that moves by a pixel lies in two
	}
	for c := lo; c < hi; c++ {
		if i := zero + c*step; k.changed(i) {
			list = append(list, i)
		}
	}
	for c := lo - 1; c >= max(0, lo-reach) && k.changed(zero+c*step); c-- {
		list = append(list, zero+c*step)
	}
	for c := hi; c < min(end, hi+reach) && k.changed(zero+c*step); c++ {
		list = append(list, zero+c*step)
	}
	return list
}

// line is the n-th line across a limb.
func (k *trial) line(l limb, n int) []int {
	lo, hi := l.across(n)
	list := make([]int, 0, hi-lo)
	for c := lo; c < hi; c++ {
		list = append(list, choose(l.bar, c*k.d.golden.w+l.from()+n, (l.from()+n)*k.d.golden.w+c))
	}
	return list
}

// minutes is the angle of a pixel across a limb.
func (k *trial) minutes(bar bool) float64 {
	return choose(bar, k.j.eye.minutesY, k.j.eye.minutesX)
}

func extent(s namedLimb) string {
	return pixels(float64(s.thickness())) + " thick, " + pixels(float64(s.length())) + " long"
}
