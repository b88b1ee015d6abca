package gridfit

import (
	"slices"

	"smokeproof/harness/face"
	"smokeproof/harness/gridfit/bytecode"
)

// part is a simple glyph as it was fitted for a composite before, to be used again:
// many accented letters share a base.
type part struct {
	from, to mark // in trueType.kept
	own      phantoms
	dropout  int
	took     bytecode.Budget // by its program, and again by each composite that uses it
}

// mostKept bounds the points kept for a size, some 10 bytes each.
const mostKept = 1 << 16

// reuse clears the fitter for a size of a face.
func (t *trueType) reuse(f *face.TrueType) {
	*t = trueType{
		face: f, read: t.read, glyphs: t.glyphs, whole: t.whole, ends: t.ends, zone: t.zone, out: t.out,
		known: slices.Grow(t.known[:0], f.NumGlyphs())[:f.NumGlyphs()], parts: append(t.parts[:0], part{}), kept: t.kept,
	}
	clear(t.known)
	t.read.begin(f)
	t.kept.cut(mark{})
	t.out = Fitted{Outline: t.out.Outline}
}

// part is a component that is known, or nil.
func (t *trueType) part(index int) *part {
	if uint(index) >= uint(len(t.known)) || t.known[index] == 0 {
		return nil
	}
	return &t.parts[t.known[index]]
}

// again adds a part to the whole, unless the glyph at work has no budget left for its
// program, or no room: then it is to be fitted, and to fail, as if nothing was known.
func (t *trueType) again(p *part) bool {
	if len(t.whole.on)+p.to.points-p.from.points > maxPoints || len(t.whole.ends)+p.to.ends-p.from.ends > maxPoints {
		return false
	}
	if t.machine != nil && !t.machine.Take(p.took) {
		return false
	}
	t.whole.append(&t.kept, p.from, p.to)
	t.dropout = p.dropout
	return true
}

// component fits a simple glyph as a part of a composite, and keeps it if whatever
// composite asks for it will get the same.
func (t *trueType) component(index int, g *face.Glyph, design phantoms) phantoms {
	var left bytecode.Budget
	if t.machine != nil {
		left = t.machine.Left()
	}
	from := t.whole.mark()
	own := t.simple(index, g, design)
	if t.fault != nil || len(t.kept.on) > mostKept || t.hinted && !t.machine.Alone() {
		return own
	}
	p := part{from: t.kept.mark(), own: own, dropout: t.dropout}
	if t.machine != nil {
		p.took = left.Less(t.machine.Left())
	}
	t.kept.append(&t.whole, from, t.whole.mark())
	p.to = t.kept.mark()
	t.known[index] = int32(len(t.parts))
	t.parts = append(t.parts, p)
	return own
}

// append adds a stretch of another assembly.
func (a *assembly) append(b *assembly, from, to mark) {
	move := len(a.on) - from.points
	a.X = append(a.X, b.X[from.points:to.points]...)
	a.Y = append(a.Y, b.Y[from.points:to.points]...)
	a.on = append(a.on, b.on[from.points:to.points]...)
	a.modes = append(a.modes, b.modes[from.ends:to.ends]...)
	a.recur = append(a.recur, b.recur[from.ends:to.ends]...)
	for _, e := range b.ends[from.ends:to.ends] {
		a.ends = append(a.ends, e+move)
	}
}
