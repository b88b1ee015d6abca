package diff

import (
	"math"
	"slices"
)

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
		s.weight = hundredths(net / (share * float64(s.length())))
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
			if row := k.rowOf(s); row != "" {
				f.Kind, f.MeasurePx, f.Place.What = Height, float64(dy), row
				f.Text = row + " " + pixels(f.MeasurePx) + choose(dy > 0, " higher", " lower") + ", at the " + s.name
			} else {
				f.Text = movedText(s.name, dx, dy) + "; its weight is unchanged"
			}
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
	mean := hundredths(net / float64(length))
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

func (k *trial) upem() int {
	if k.p.Design == nil {
		return 0
	}
	return k.p.Design.UPEM
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
