package diff

import (
	"math"
	"slices"
)

// limbWeights names limbs that grew, thinned or moved along most of their length.
func (k *trial) limbWeights() {
	for i := range k.limbs {
		s := &k.limbs[i]
		switch f := k.flank(s.limb); {
		case len(f.pixels) < 2:
		case s.course != nil:
			k.courseWeight(s, f)
		case f.share >= alongShare:
			k.straightWeight(s, f)
		}
	}
}

// straightWeight names what became of a straight limb.
func (k *trial) straightWeight(s *namedLimb, f flank) {
	length := f.share * float64(s.length())
	mean, across := hundredths(f.net/length), f.gross/length
	if math.Abs(mean) < across/2 { // as much lost at one edge as gained at the other
		k.claimOf(s, k.limbMoved(s, f, across), f.pixels)
		return
	}
	s.weight = mean
	kind := choose(s.bar, BarWeight, StemWeight)
	k.claimOf(s, Finding{
		Kind: kind, Severity: severityOf(kind, math.Abs(mean)*k.minutes(s.bar)), MeasurePx: mean, Place: Place{What: s.name},
		Text: weightText(s.name, mean, f.share < 0.9),
	}, f.pixels)
}

// limbMoved is the finding of a limb that kept its weight: a bar at an alignment row is
// that row. Across is what changed, pixels on each line.
func (k *trial) limbMoved(s *namedLimb, f flank, across float64) Finding {
	way := k.way(s.limb, f.pixels)
	m := Move{DX: int(math.Copysign(math.Ceil(across/2), way))}
	if s.bar {
		m = Move{DY: m.DX}
	}
	severity := min(Major, severityOf(StemWeight, across/2*k.minutes(s.bar)))
	if row := k.barRow(s); row != "" {
		px := float64(m.DY)
		return Finding{
			Kind: Height, Severity: severity, MeasurePx: px, Move: m, Place: Place{What: row},
			Text: row + " " + higherBy(px) + ", at the " + s.name,
		}
	}
	return Finding{
		Kind: Moved, Severity: severity, MeasurePx: way, Move: m, Place: Place{What: s.name},
		Text: movedText(s.name, m) + "; its weight is unchanged",
	}
}

// courseWeight names a stroke that leans or bends and grew or thinned, by the
// mean over the stretch that did: its stairs fall otherwise wherever it is
// drawn, so that what is lost on one side and gained on the other is left to
// the rest.
func (k *trial) courseWeight(s *namedLimb, f flank) {
	length := k.stretch(s.limb, f.net > 0)
	if float64(length) < alongShare*float64(s.own) || float64(length) < limbAspect*float64(s.thickness()) {
		length = s.own // no stretch that is a stroke itself: the mean of all
	}
	mean := hundredths(f.net / float64(length))
	theta, _ := s.lean()
	minutes := math.Abs(mean) * k.minutes(s.bar) * math.Cos(theta) * oblique(theta)
	kind := choose(s.bar, BarWeight, StemWeight)
	if math.Abs(f.net) < f.gross/2 || severityOf(kind, minutes) == Trace {
		return
	}
	s.weight = mean
	k.claimOf(s, Finding{
		Kind: kind, Severity: severityOf(kind, minutes), MeasurePx: mean, Place: Place{What: s.name},
		Text: weightText(s.name, mean, 10*length < 9*s.own),
	}, f.pixels)
}

// claimOf claims pixels for a finding that is all that a limb has.
func (k *trial) claimOf(s *namedLimb, f Finding, pixels []int) {
	n := len(k.found)
	s.finding = &n
	k.claim(f, pixels)
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

// way is how far the ink of a limb went, below 0 to the left or down.
func (k *trial) way(l limb, list []int) float64 {
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
			equal, by := k.wereEqual(s, t)
			apart := s.weight - t.weight
			if !equal || math.Abs(apart) < 0.5 || math.Abs(s.weight) < math.Abs(t.weight) {
				continue
			}
			f := &k.found[*s.finding]
			f.Kind = StemUneven
			f.Text = s.name + " " + widerBy(apart) + " than the " + short(t.name) + "; equal in the " + by
			f.Severity = max(f.Severity, severityOf(StemUneven, math.Abs(apart)*k.j.eye.minutesX))
			break
		}
	}
}

// wereEqual says that a stem of the golden is the twin of a limb that changed: equal in the
// outline if that tells, and as thick in the golden. It says what tells.
func (k *trial) wereEqual(s, t *namedLimb) (equal bool, by string) {
	was := k.mate(s)
	if t.bar || t.candidate || t.kind != s.kind || (t.course == nil) != (s.course == nil) || t.name == s.name || t.thickness() != was.thickness() {
		return false, ""
	}
	equal, known := k.outline.equal(was.limb, t.limb, k.upem())
	return equal || !known, choose(known, "outline", "golden")
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
			list, lines := k.endLines(s, far)
			amount := 0.0
			for _, i := range list {
				amount += math.Abs(k.signed(i))
			}
			severity := severityOf(Edge, k.j.eye.spot(amount))
			if len(list) < 2 || severity == Trace {
				continue
			}
			end := choose(s.bar, choose(far, "right", "left"), choose(far, "upper", "lower"))
			px := choose(s.candidate, 1.0, -1) * amount * float64(lines) / float64(len(list))
			k.claim(Finding{
				Kind: Edge, Severity: severity, MeasurePx: px, Place: Place{What: s.name},
				Text: s.name + " " + pixels(px) + choose(s.candidate, " longer", " shorter") + " at its " + end + " end",
			}, list)
		}
	}
}

// endLines gives the pixels of the lines at an end of a limb that one side alone has, and
// counts these.
func (k *trial) endLines(s *namedLimb, far bool) (list []int, lines int) {
	for ; lines < s.length(); lines++ {
		line := k.line(s.limb, choose(far, s.length()-1-lines, lines))
		if slices.ContainsFunc(line, func(i int) bool { return !k.changed(i) || (k.signed(i) > 0) != s.candidate }) {
			break
		}
		list = append(list, line...)
	}
	return list, lines
}

func (k *trial) upem() int {
	if k.p.Design == nil {
		return 0
	}
	return k.p.Design.UPEM
}
