package raster

import (
	"unsafe"

	machine "golang.org/x/sys/cpu"
)

var _ [40]byte = [unsafe.Sizeof(arc{})]byte{} // as the assembler has it

// vectors says that the processor has AVX2. Curves are then met eight lines at a time.
var vectors = machine.X86.HasAVX2

// findInPairs takes two arcs at a time, and for an odd one an empty one beside it.
func (m *meets) findInPairs(p *precision) {
	if len(m.arcs)&1 != 0 {
		m.arcs = append(m.arcs, arc{})
	}
	if len(m.arcs) > 0 {
		meetPairs(&m.xs[0], &m.arcs[0], len(m.arcs)/2, p.one, p.flat)
	}
}

// meetPairs is meetOne for the four lines of an arc, and of the next, at once.
//
//go:noescape
func meetPairs(xs *int32, arcs *arc, pairs, one, flat int)
