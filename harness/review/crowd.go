package review

import (
	"cmp"
	"slices"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// seen is a change as it is met among all of a run.
type seen struct {
	change     *harness.Change
	strike, at int // its place: of the strike in the run, and then among the changes
	name       int // of its glyph as it is spoken, in the table of the crowds
}

// compare orders the changes of a run worst first.
func (s seen) compare(o seen) int {
	return cmp.Or(harness.Worse(o.change, s.change), cmp.Compare(s.strike, o.strike), cmp.Compare(s.at, o.at))
}

// crowd is changes that are counted and not kept, as a run may have a million: what there is to say
// of them together. They may come in any order.
type crowd struct {
	order              func(a, b *harness.Change) int // of the glyphs that are named
	n                  int
	last               *harness.Change // counted
	named              numberSet
	told               []seen // of the first names, the first change
	faces, sizes, dpis []string
}

// mostTold is how many glyphs of many are named at most.
const mostTold = 4

// add counts a change, once though it be given several times in turn.
func (c *crowd) add(s seen) {
	if c.last == s.change {
		return
	}
	c.last = s.change
	c.n++
	c.named.add(s.name)
	c.tell(s)
	c.faces = with(c.faces, plain(s.change.Face))
	c.sizes = with(c.sizes, s.change.Size)
	c.dpis = with(c.dpis, s.change.DPI)
}

// tell keeps the first change of each name, and of the first names alone.
func (c *crowd) tell(s seen) {
	order := func(a, b seen) int { return cmp.Or(c.order(a.change, b.change), a.compare(b)) }
	if i := slices.IndexFunc(c.told, func(t seen) bool { return t.name == s.name }); i >= 0 {
		if order(s, c.told[i]) >= 0 {
			return
		}
		c.told = slices.Delete(c.told, i, i+1)
	} else if len(c.told) == mostTold {
		if order(s, c.told[mostTold-1]) >= 0 {
			return
		}
		c.told = c.told[:mostTold-1]
	}
	at, _ := slices.BinarySearchFunc(c.told, s, order)
	c.told = slices.Insert(c.told, at, s)
}

// which names the glyphs, that of one change first, if there is one.
func (c *crowd) which(first *harness.Change) string {
	var names []string
	if first != nil {
		names = append(names, spoken(first))
	}
	for _, s := range c.told {
		names = with(names, spoken(s.change))
	}
	return glyph.FirstOfMany(names, c.named.n)
}

// where names the strikes.
func (c *crowd) where() string { return strikesOf(c.faces, c.sizes, c.dpis) }

// with is a list that holds a word, or its number, once.
func with[T comparable](list []T, word T) []T {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

// numberSet is numbers of names, each once.
type numberSet struct {
	bits []uint64
	n    int
}

func (s *numberSet) add(number int) {
	for len(s.bits) <= number/64 {
		s.bits = append(s.bits, 0)
	}
	if bit := uint64(1) << (number % 64); s.bits[number/64]&bit == 0 {
		s.bits[number/64] |= bit
		s.n++
	}
}
