package diff

import (
	"math"
	"slices"
	"strings"
)

// standing is a limb as one side drew it.
type standing struct {
	limb
	name      string
	kind      string  // stem, curve, diagonal or bar
	candidate bool    // found in the candidate
	weight    float64 // change in thickness, pixels
	finding   *int    // index of the finding of its weight, or nil
}

// standings lists the limbs of a drawing with their names.
func (on *desk) standings(p *plane, d *drawn, candidate bool) []standing {
	body := p.body(on)
	if body == nil {
		return nil
	}
	var list []standing
	stems := p.outlined(p.stems(body, on), d, false)
	slices.SortStableFunc(stems, func(a, b limb) int { return a.x0 - b.x0 })
	for i, l := range stems {
		kind := l.shape(d)
		list = append(list, standing{limb: l, kind: kind, name: strings.Replace(nameStem(i, len(stems)), "stem", kind, 1), candidate: candidate})
	}
	bottom, top := p.rows()
	for _, l := range p.outlined(p.bars(body, on), d, true) {
		kind, name := "bar", nameBar(l, bottom, top)
		if shape := l.shape(nil); shape != "stem" {
			kind, name = shape, shape
		}
		list = append(list, standing{limb: l, kind: kind, name: name, candidate: candidate})
	}
	return list
}

// shape is what a stroke is called: stem, curve or diagonal; of a straight one
// the outline on its left edge tells.
func (l *limb) shape(d *drawn) string {
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

// flank collects the changed pixels of a limb: inside it, and outward from its
// edges as far as the change reaches without a gap. It gives the net change of
// ink, pixels, and the share of the length that is touched.
func (k *trial) flank(l limb) (list []int, net, gross, share float64) {
	touched := 0
	for n := range l.length() {
		before := len(list)
		list = k.besideLine(l, n, list)
		if len(list) > before {
			touched++
		}
	}
	for _, i := range list {
		net += k.signed(i)
		gross += math.Abs(k.signed(i))
	}
	return list, net, gross, float64(touched) / float64(l.length())
}

// nets is the net change of ink of a limb's lines, pixels each.
func (k *trial) nets(l limb) []float64 {
	list := make([]float64, l.length())
	for n := range list {
		for _, i := range k.besideLine(l, n, nil) {
			list[n] += k.signed(i)
		}
	}
	return list
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

// lostLimbs names stems and bars that are gone, and those that are new. New
// ink that joins or fills is left to the topology.
func (k *trial) lostLimbs(joins []bool) {
	for _, s := range k.limbs {
		list, _, _, _ := k.flank(s.limb)
		gone, own := k.gone(s)
		switch lost := k.turned(list) && lostOf(gone, own); {
		case !s.candidate && lost:
			kind := choose(s.bar, BarLost, StemLost)
			k.claim(Finding{
				Kind: kind, Severity: severityOf(kind, k.minutes(s.bar)*float64(s.thickness())),
				MeasurePx: -float64(s.thickness()), Place: Place{What: s.name},
				Text: s.name + " is gone" + choose(float64(gone) < wholeShare*float64(own), " over "+pixels(float64(gone))+" of its length", "") + ": " + extent(s) + " in the approved bitmap",
			}, list)
		case s.candidate && lost && !slices.ContainsFunc(list, func(i int) bool { return joins[i] }):
			minutes := k.minutes(s.bar) * float64(s.thickness())
			k.claim(Finding{
				Kind: Extra, Severity: max(Major, severityOf(StemWeight, minutes)),
				MeasurePx: float64(s.thickness()), Place: Place{What: s.name},
				Text: s.name + " that the approved bitmap lacks: " + extent(s),
			}, list)
		}
	}
}

func lostOf(gone, own int) bool {
	return gone >= minLimb && float64(gone) >= lostShare*float64(own)
}

// emptied says of each edit that a limb of either side went with it. Such an
// edit weighs as one that parts strokes: a gap that grows until nothing is left
// to part must not weigh less.
func (k *trial) emptied(edits int) []bool {
	list := make([]bool, edits)
	for _, s := range k.limbs {
		if !lostOf(k.gone(s)) {
			continue
		}
		for n := range s.length() {
			for _, i := range k.line(s.limb, n) {
				if e := k.j.desk.label[i]; e > 0 && (k.signed(i) > 0) == s.candidate {
					list[e-1] = true
				}
			}
		}
	}
	return list
}

// gone counts the lines across a limb which are its own, and those of them that
// have no ink on the other side, nor beside it.
func (k *trial) gone(s standing) (empty, own int) {
	has, lacks := &k.d.golden, &k.d.candidate
	if s.candidate {
		has, lacks = lacks, has
	}
	step, line := 1, has.w
	if s.bar {
		step, line = line, step
	}
	for n := range s.length() {
		a := s.from() + n
		lo, hi := s.across(n)
		if i := a*line + lo*step; has.ink(i-step) || !has.ink(i) || has.ink(a*line+hi*step) {
			continue
		}
		own++
		left := 0
		for c := lo - 1; c <= hi; c++ {
			if lacks.ink(a*line + c*step) {
				left++
			}
		}
		if left == 0 {
			empty++
		}
	}
	return empty, own
}

// minutes is the angle of a pixel across a limb.
func (k *trial) minutes(bar bool) float64 {
	return choose(bar, k.j.eye.minutesY, k.j.eye.minutesX)
}

func extent(s standing) string {
	return pixels(float64(s.thickness())) + " thick, " + pixels(float64(s.length())) + " long"
}

// limbWeights names limbs that grew, thinned or moved along most of their length.
func (k *trial) limbWeights() {
	for i := range k.limbs {
		s := &k.limbs[i]
		list, net, gross, share := k.flank(s.limb)
		if s.course != nil && len(list) > 1 {
			k.courseWeight(s)
			continue
		}
		if share < alongShare || len(list) < 2 {
			continue
		}
		s.weight = net / (share * float64(s.length()))
		across := gross / (share * float64(s.length()))
		f := Finding{Place: Place{What: s.name}}
		if math.Abs(s.weight) < across/2 { // as much lost at one edge as gained at the other
			s.weight = 0
			step := k.step(s.limb, list)
			f.Kind, f.MeasurePx = Moved, step
			f.Severity = min(Major, severityOf(StemWeight, across/2*k.minutes(s.bar)))
			dx, dy := int(math.Copysign(math.Ceil(across/2), step)), 0
			if s.bar {
				dx, dy = 0, dx
			}
			f.Text = movedText(s.name, dx, dy) + "; its weight is unchanged"
		} else {
			f.Kind = choose(s.bar, BarWeight, StemWeight)
			f.MeasurePx = s.weight
			f.Severity = severityOf(f.Kind, math.Abs(s.weight)*k.minutes(s.bar))
			f.Text = s.name + " " + pixels(s.weight) + choose(s.weight > 0, " thicker", " thinner")
			if share < 0.9 {
				f.Text += " over part of its length"
			}
		}
		n := len(k.found)
		s.finding = &n
		k.claim(f, list)
	}
}

// courseWeight names a stroke that leans or bends and grew or thinned, by the
// mean over the stretch that did: its stairs fall otherwise wherever it is
// drawn, so that what is lost on one side and gained on the other is left to
// the rest.
func (k *trial) courseWeight(s *standing) {
	list, net, gross, _ := k.flank(s.limb)
	length := k.stretch(s.limb, net > 0)
	if float64(length) < alongShare*float64(s.own) || float64(length) < limbAspect*float64(s.thickness()) {
		length = s.own // no stretch that is a stroke itself: the mean of all
	}
	mean := net / float64(length)
	theta, _ := s.lean()
	minutes := math.Abs(mean) * k.minutes(s.bar) * math.Cos(theta) * oblique(theta)
	kind := choose(s.bar, BarWeight, StemWeight)
	if math.Abs(net) < gross/2 || severityOf(kind, minutes) == Trace {
		return
	}
	s.weight = mean
	n := len(k.found)
	s.finding = &n
	k.claim(Finding{
		Kind: kind, Severity: severityOf(kind, minutes), MeasurePx: mean, Place: Place{What: s.name},
		Text: s.name + " " + pixels(mean) + choose(mean > 0, " thicker", " thinner") + choose(10*length < 9*s.own, " over part of its length", ""),
	}, list)
}

// stretch is the length of the lines, one after the other, that changed by more
// than half a pixel each on the whole.
func (k *trial) stretch(l limb, thicker bool) int {
	best, sum, most, from := 0, 0.0, 0.0, 0
	for n, net := range k.nets(l) {
		if sum <= 0 {
			sum, from = 0, n
		}
		if sum += choose(thicker, net, -net) - 0.5; sum > most {
			most, best = sum, n-from+1
		}
	}
	return best
}

// step is which way, and how far, the ink of a limb went.
func (k *trial) step(l limb, list []int) float64 {
	moment, gained := 0.0, 0.0
	for _, i := range list {
		place := choose(l.bar, i/k.d.golden.w, i%k.d.golden.w)
		moment += k.signed(i) * float64(place)
		gained += math.Abs(k.signed(i)) / 2
	}
	if gained == 0 {
		return 0
	}
	return math.Copysign(max(1, math.Round(gained/float64(max(1, l.length())))), moment)
}

// uneven turns a stem's change of weight into what a reader sees of it: that
// stems which were equal are equal no more.
func (k *trial) uneven() {
	for i := range k.limbs {
		s := &k.limbs[i]
		if s.bar || s.weight == 0 || s.finding == nil {
			continue
		}
		for j := range k.limbs {
			t := &k.limbs[j]
			equal, known := k.outline.equal(k.mate(s).limb, t.limb, k.upem())
			if known && !equal {
				continue
			}
			if t.bar || t.candidate || t.kind != s.kind || (t.course == nil) != (s.course == nil) || t.name == s.name || t.thickness() != k.mate(s).thickness() {
				continue
			}
			apart := s.weight - t.weight
			if math.Abs(apart) < 0.5 || math.Abs(s.weight) < math.Abs(t.weight) {
				continue
			}
			f := &k.found[*s.finding]
			f.Kind = StemUneven
			f.Text = s.name + " " + pixels(apart) + choose(apart > 0, " wider", " narrower") + " than the " + short(t.name) + "; equal in the " + choose(known, "outline", "approved bitmap")
			f.Severity = max(f.Severity, severityOf(StemUneven, math.Abs(apart)*k.j.eye.minutesX))
			break
		}
	}
}

// limbEnds names strokes that end earlier or later: whole lines across their
// end went, or came.
func (k *trial) limbEnds() {
	for i := range k.limbs {
		s := &k.limbs[i]
		if s.course != nil {
			continue
		}
		for _, far := range []bool{false, true} {
			var list []int
			n := 0
			for ; n < s.length(); n++ {
				line := k.line(s.limb, choose(far, s.length()-1-n, n))
				if slices.ContainsFunc(line, func(i int) bool { return !k.changed(i) || (k.signed(i) > 0) != s.candidate }) {
					break
				}
				list = append(list, line...)
			}
			amount := 0.0
			for _, i := range list {
				amount += math.Abs(k.signed(i))
			}
			severity := severityOf(Edge, k.j.eye.spot(amount))
			if len(list) < 2 || severity == Trace {
				continue
			}
			end := choose(s.bar, choose(far, "right", "left"), choose(far, "upper", "lower"))
			px := choose(s.candidate, 1.0, -1) * amount * float64(n) / float64(len(list))
			k.claim(Finding{
				Kind: Edge, Severity: severity, MeasurePx: px, Place: Place{What: s.name},
				Text: s.name + " " + pixels(px) + choose(s.candidate, " longer", " shorter") + " at its " + end + " end",
			}, list)
		}
	}
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

func (k *trial) upem() int {
	if k.p.Design == nil {
		return 0
	}
	return k.p.Design.UPEM
}

// mate is the golden's limb that a candidate's limb is drawn for, or itself.
func (k *trial) mate(s *standing) *standing {
	for i := range k.limbs {
		if t := &k.limbs[i]; s.candidate && !t.candidate && t.bar == s.bar && t.covers(s.limb) {
			return t
		}
	}
	return s
}

func short(name string) string {
	switch name {
	case "left stem":
		return "left"
	case "right stem":
		return "right"
	case "middle stem":
		return "middle"
	}
	return name
}
