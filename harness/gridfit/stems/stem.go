package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// stem is a hint of the glyph in hand on one axis. A ghost has one edge: lo and
// hi are the same, and so is its place.
type stem struct {
	lo, hi  fixed.Int26_6 // font units
	ghost   face.Ghost
	implied bool          // not declared: an extreme of the outline in a zone, or a plain upright stem
	width   fixed.Int26_6 // device pixels, whole; 0 for a ghost
	low     fixed.Int26_6 // device pixels, whole: the fitted lower edge
	placed  bool
	across  fixed.Int26_6 // device pixels, whole: the width of a mark's ball, or 0
	pitch   fixed.Int26_6 // font units: of the pattern that it is a dot of, or 0
	spans   spanSet       // where it is in force
	reach   box           // of points on its edges, upright stems only
	tops    []*extremeAt  // that its upper edge stands for, bars only
	bottoms []*extremeAt  // and its lower one
	touches bool          // the contour in hand has points on both edges
	home    box           // of the contours that have
	by      Rule
	zone    int  // index of the zone that holds it, or -1
	used    bool // points were fitted by it
	crossed bool // an edge of a zone is on the other side of it than in the outline
}

// spanSet is a set of the spans of a drawing, by index.
type spanSet [maxSpans / 64]uint64

func (s *spanSet) add(i int) { s[i/64] |= 1 << (i % 64) }

// meets says that two sets have a span in common.
func (s *spanSet) meets(o *spanSet) bool {
	for i := range s {
		if s[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

// stemOf is a hint that has not been fitted.
func stemOf(h *face.Hint) stem {
	s := stem{lo: min(h.Lo, h.Hi), hi: max(h.Lo, h.Hi), ghost: h.Ghost, zone: -1}
	if s.ghost != face.NoGhost {
		s.hi = s.lo
	}
	return s
}

func (s *stem) high() fixed.Int26_6 { return s.low + s.width }

// below says that s lies wholly under o, touching it at most.
func (s *stem) below(o *stem) bool { return s.hi <= o.lo }

// together says that two stems may be in force for one point, and must keep their
// order: not those of contours that are apart, though one set of hints holds them.
func (s *stem) together(o *stem) bool {
	return s.spans.meets(&o.spans) && (s.home.empty() || o.home.empty() || s.home.overlaps(o.home))
}

// Rule is what decided where a stem stands.
type Rule uint8

const (
	ByOrder   Rule = iota // its own centre and the neighbours placed before
	ByZone                // an edge in an alignment zone
	ByZones               // both edges in zones
	ByEdge                // an edge in common with a stem placed before
	ByCounter             // the equal gaps of a group
)

var ruleNames = [...]string{"own centre", "zone", "two zones", "common edge", "equal counters"}

func (r Rule) String() string { return ruleNames[r] }
