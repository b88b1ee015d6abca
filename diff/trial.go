package diff

import (
	"math"
	"sync"
)

// trial is one pair under judgement. Each finding claims its pixels, so that
// none is counted twice.
type trial struct {
	j       *Judge
	p       Pair
	d       delta
	weights []float64 // of each changed pixel; 0 where unchanged
	claimed []bool
	edits   []edit

	golden, candidate parts
	outline           *outline    // nil without a face
	limbs             []namedLimb // of the golden, then of the candidate
	found             []Finding
	replaced          bool // by another drawing: nothing else is to tell
}

// newTrial reads both drawings.
func newTrial(j *Judge, p Pair, d delta) *trial {
	k := &trial{j: j, p: p, d: d}
	k.weights = cleared(&j.desk.weights, len(d.golden.v))
	k.claimed = cleared(&j.desk.claimed, len(d.golden.v))
	k.edits = k.d.edits()
	if len(k.edits) == 0 {
		return k // a shift is all that changed
	}
	k.golden, k.candidate = d.golden.parts(&j.desk, 0), d.candidate.parts(&j.desk, 1)
	k.outline = readOutline(p.Design, p.PPEM, &d.golden, &j.desk)
	k.limbs = append(j.desk.namedLimbs(&d.golden, k.golden.body(), k.outline, false),
		j.desk.namedLimbs(&d.candidate, k.candidate.body(), k.outline, true)...)
	for i := range k.limbs {
		k.limbs[i].name = k.mate(&k.limbs[i]).name
	}
	return k
}

// findings names the differences, gravest families first. Every changed pixel
// is weighed before anything is named: the sum is the same from either side,
// whatever the names are.
func (k *trial) findings() []Finding {
	k.shift()
	if len(k.edits) == 0 {
		return k.found
	}
	k.effects()
	k.emptied()
	k.weigh()
	k.stayed()
	k.movedParts()
	k.docked()
	if k.another() {
		k.replaced = true
		return k.found
	}
	k.islands()
	k.lostLimbs()
	k.topology()
	k.counters()
	k.grownDots()
	k.heights()
	k.serifs()
	k.limbWeights()
	k.uneven()
	k.limbEnds()
	k.rest()
	k.allOver()
	return k.found
}

// effects tells of each edit what its ink does to the shape.
func (k *trial) effects() {
	golden, candidate := k.golden.shape(), k.candidate.shape()
	size := len(k.d.golden.v)
	pieces := [2]func() bool{
		sync.OnceValue(func() bool { return inPieces(k.golden.ink, k.candidate.ink, size) }),
		sync.OnceValue(func() bool { return inPieces(k.candidate.ink, k.golden.ink, size) }),
	}
	for i := range k.edits {
		e := &k.edits[i]
		has, lacks := k.sides(e.gain)
		full, without := golden, candidate
		if e.gain {
			full, without = without, full
		}
		e.effect = k.j.desk.effect(has, lacks, full, without, e, pieces[choose(e.gain, 1, 0)])
	}
}

// weigh fills in the weight of every changed pixel.
func (k *trial) weigh() {
	label := k.j.desk.label
	for own, e := range k.edits {
		own := int32(own + 1)
		for _, i := range e.pixels {
			n := max(run(label, own, i, 1), run(label, own, i, k.d.golden.w))
			k.weights[i] = k.j.eye.weight(n, e.effect != unchanged || e.empties) * math.Abs(k.signed(i))
		}
	}
}

// editOf is the edit that a pixel is of; nil where it did not change. It holds until
// the rest is looked through.
func (k *trial) editOf(i int) *edit {
	if own := k.j.desk.label[i]; own > 0 {
		return &k.edits[own-1]
	}
	return nil
}

// sides gives the drawing that has an ink and the one that lacks it: ink that the
// candidate gained, or that it lost.
func (k *trial) sides(gain bool) (has, lacks *plane) {
	if gain {
		return &k.d.candidate, &k.d.golden
	}
	return &k.d.golden, &k.d.candidate
}

// changed says that a pixel differs and no finding has it yet.
func (k *trial) changed(i int) bool {
	return !k.claimed[i] && k.d.golden.v[i] != k.d.candidate.v[i]
}

// signed is the change of a pixel's coverage, -1 to 1.
func (k *trial) signed(i int) float64 {
	return (float64(k.d.candidate.v[i]) - float64(k.d.golden.v[i])) / 255
}

// turned says of changed pixels that they changed by as much, on the whole, as
// one that turns from ink to white: in grey, half coverage is passed by less.
func (k *trial) turned(list []int) bool {
	gross := 0.0
	for _, i := range list {
		gross += math.Abs(k.signed(i))
	}
	return len(list) > 0 && gross >= turnedShare*float64(len(list))
}

// claim takes pixels for a finding: their weight becomes its score, their box
// its place unless it has one.
func (k *trial) claim(f Finding, pixels []int) {
	g := &k.d.golden
	at := g.nowhere()
	for _, i := range pixels {
		if k.claimed[i] {
			continue
		}
		k.claimed[i] = true
		f.Score += k.weights[i]
		x, y := i%g.w, i/g.w
		at.grow(box{x, y, x + 1, y + 1})
	}
	f.Place = g.place(at, f.Place.What)
	k.found = append(k.found, f)
}

// changedIn lists the pixels of a box that differ and no finding has yet.
func (k *trial) changedIn(b box) []int {
	var list []int
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			if i := y*k.d.golden.w + x; k.changed(i) {
				list = append(list, i)
			}
		}
	}
	return list
}

func (k *trial) unclaimed(pixels []int) []int {
	var list []int
	for _, i := range pixels {
		if k.changed(i) {
			list = append(list, i)
		}
	}
	return list
}
