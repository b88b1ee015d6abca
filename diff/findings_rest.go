package diff

import (
	"fmt"
	"math"
)

// rest names what no limb, row or counter accounts for: pixels at
// edges, curves and diagonals, one finding for each of these.
func (k *trial) rest() {
	byKind := map[Kind][]int{}
	worst := map[Kind]float64{} // pixels
	for _, e := range k.leftover() {
		kind := k.kindOf(&e)
		byKind[kind] = append(byKind[kind], e.pixels...)
		size := float64(deepest(e.pixels, k.d.golden.w))
		if kind == Edge {
			size = math.Sqrt(float64(len(e.pixels)))
		}
		worst[kind] = max(worst[kind], size)
	}
	for _, kind := range []Kind{Edge, Round, Diagonal} {
		list := byKind[kind]
		if len(list) == 0 {
			continue
		}
		net, gross := 0.0, 0.0
		for _, i := range list {
			net += k.signed(i)
			gross += math.Abs(k.signed(i))
		}
		minutes := worst[kind] * math.Sqrt(k.j.eye.area)
		minutes *= min(1, gross/float64(len(list))) // grey: by how much each changed
		k.claim(Finding{
			Kind: kind, Severity: severityOf(kind, minutes), MeasurePx: hundredths(net),
			Place: Place{What: restPlace[kind]},
			Text:  fmt.Sprintf("%s changed %s", pixelCount(len(list)), restText[kind]),
		}, list)
	}
}

var restPlace = map[Kind]string{Edge: "edge", Round: "curve", Diagonal: "diagonal"}

var restText = map[Kind]string{
	Edge:     "on a straight edge",
	Round:    "on a curve",
	Diagonal: "in the stairs of a diagonal",
}

// leftover is the edits that remain of the unclaimed pixels.
func (k *trial) leftover() []edit {
	rest := k.d
	rest.candidate.v = cleared(&k.j.desk.rest, len(k.claimed))
	copy(rest.candidate.v, k.d.candidate.v)
	for i, c := range k.claimed {
		if c {
			rest.candidate.v[i] = k.d.golden.v[i]
		}
	}
	return rest.edits()
}

// kindOf says edge at the side of a limb, and else what the outline nearest to
// an edit is. Without an outline it reads the direction of the edge about the
// middle of the edit, on the side that has its ink.
func (k *trial) kindOf(e *edit) Kind {
	if k.besideLimb(e) {
		return Edge
	}
	has, lacks := k.sides(e.gain)
	i := e.pixels[len(e.pixels)/2]
	x, y := i%has.w, i/has.w
	if kind, ok := k.outline.beside(float64(x)+0.5, float64(y)+0.5); ok {
		return kind
	}
	theta, straight := lacks.direction(x, y)
	if t, s := has.direction(x, y); s > straight {
		theta, straight = t, s
	}
	off := math.Abs(math.Remainder(theta, math.Pi/2)) * 180 / math.Pi
	switch {
	case straight < oneDirection:
		return Round
	case off > straightDegrees:
		return Diagonal
	}
	return Edge
}

// besideLimb says that an edit touches the side of a stem or bar.
func (k *trial) besideLimb(e *edit) bool {
	for _, l := range k.limbs {
		if l.course != nil {
			continue
		}
		along := e.y0 >= l.y0 && e.y1 <= l.y1 && e.x0 <= l.x1 && e.x1 >= l.x0
		if l.bar {
			along = e.x0 >= l.x0 && e.x1 <= l.x1 && e.y0 <= l.y1 && e.y1 >= l.y0
		}
		if along {
			return true
		}
	}
	return false
}
