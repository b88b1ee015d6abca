package face

import (
	"fmt"
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Reason says why a glyph is drawn otherwise than before, where one thing alone is another: what it has
// in common with others, as [Revision.Common] says, or of itself or a glyph that it is made of the hints or
// the advance, which hints go by. "" where its outline is another, more than one thing is, or nothing.
func (r *Revision) Reason(now glyph.Ref) string {
	if common := r.Common(now); common != "" || r.tables != "" {
		return common
	}
	was, ok := r.former(now)
	if !ok || r.old.Format() != r.now.Format() {
		return ""
	}
	return r.own(was, now.Index, maxDepth)
}

// SameHints says that nothing which hints a glyph is another: neither what it has in common with
// others nor its own, nor those of what it is made of.
func (r *Revision) SameHints(now glyph.Ref) bool {
	was, ok := r.former(now)
	if !ok || r.tables != "" || r.old.Format() != r.now.Format() {
		return false
	}
	if a, is := r.old.(PostScript); is && len(a.Private(was).differences(r.now.(PostScript).Private(now.Index))) > 0 {
		return false
	}
	return r.ownHints(was, now.Index, maxDepth)
}

// ownHints says that those of a glyph and its components are as they were.
func (r *Revision) ownHints(was, now, depth int) bool {
	if slices.Contains(r.others(was, now), "hints") {
		return false
	}
	var g, h Glyph
	if r.oldParts == nil || depth == 0 || r.old.(*TrueType).ReadGlyph(&g, was) != nil || r.now.(*TrueType).ReadGlyph(&h, now) != nil {
		return r.oldParts == nil
	}
	for i := range min(len(g.Components), len(h.Components)) {
		if a, b := g.Components[i].Index, h.Components[i].Index; r.oldParts[a] != r.newParts[b] && !r.ownHints(a, b, depth-1) {
			return false
		}
	}
	return true
}

// own is what of a glyph itself, or of the first of its components that changed, became another.
func (r *Revision) own(was, now, depth int) string {
	others := r.others(was, now)
	switch {
	case slices.Equal(others, []string{"advances"}):
		return fmt.Sprintf("the glyph's advance is %g units, was %g", units(r.now.Advance(now)), units(r.old.Advance(was)))
	case slices.Equal(others, []string{"hints"}):
		return r.hints(was, now)
	case len(others) > 0 || depth == 0 || r.oldParts == nil:
		return ""
	}
	var g, h Glyph
	if r.old.(*TrueType).ReadGlyph(&g, was) != nil || r.now.(*TrueType).ReadGlyph(&h, now) != nil {
		return ""
	}
	for i := range min(len(g.Components), len(h.Components)) {
		a, b := g.Components[i].Index, h.Components[i].Index
		if r.oldParts[a] != r.newParts[b] {
			return r.own(a, b, depth-1)
		}
	}
	return ""
}

// hints says what became of those of a glyph; "" where it takes more than a few words.
func (r *Revision) hints(was, now int) string {
	switch old := r.old.(type) {
	case *TrueType:
		var g, h Glyph
		if old.ReadGlyph(&g, was) != nil || r.now.(*TrueType).ReadGlyph(&h, now) != nil {
			return ""
		}
		switch {
		case len(h.Instructions) == 0:
			return "the glyph's program is gone"
		case len(g.Instructions) == 0:
			return "the glyph's program is new"
		}
	case PostScript:
		d, err := old.Drawing(was)
		e, failed := r.now.(PostScript).Drawing(now)
		if err == nil && failed == nil {
			return declared(d.Hints, e.Hints)
		}
	}
	return ""
}

// declared says which stem is declared otherwise, or that some are no more.
func declared(was, now []Hint) string {
	gone, fresh := notIn(was, now), notIn(now, was)
	switch {
	case len(now) == 0 && len(was) > 0:
		return "the glyph declares no stems any more"
	case len(was) == 0 && len(now) > 0:
		return "the glyph declares stems, and declared none"
	case len(gone) == 1 && len(fresh) == 1 && gone[0].Axis == fresh[0].Axis:
		what := "stem"
		if gone[0].Axis == glyph.AxisY {
			what = "bar"
		}
		return fmt.Sprintf("a %s is declared from %g to %g, was from %g to %g", what,
			units(fresh[0].Lo), units(fresh[0].Hi), units(gone[0].Lo), units(gone[0].Hi))
	}
	return ""
}

// units are font units.
func units(v fixed.Int26_6) float64 { return float64(v) / 64 }

// notIn lists the hints that another list has not.
func notIn(list, others []Hint) []Hint {
	return slices.DeleteFunc(slices.Clone(list), func(h Hint) bool { return slices.Contains(others, h) })
}
