package face

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Reason says why a glyph is drawn otherwise than before, where that can be said in a few words: what it
// has in common with others, as control values or alignment zones, is another; or its own hints are, or its
// metrics, or where its outline, some points or a component stand; or those of a glyph that it is made of. ""
// where its outline was drawn anew, or nothing is another.
func (r *Revision) Reason(now glyph.Ref) string {
	was, ok := r.former(now)
	if !ok || r.old.Format() != r.now.Format() {
		return ""
	}
	common := r.common(was, now.Index)
	switch {
	case common == "":
		return r.own(was, now.Index, maxDepth)
	case r.scale != 1: // all were drawn anew
		return common
	case r.every(was, now.Index, maxDepth, func(change) bool { return false }):
		return common
	case r.hintedAnew() && r.every(was, now.Index, maxDepth, func(what change) bool { return what == hints || what == numbering }):
		if r.unhinted {
			return "hints are gone: " + common
		}
		return "hinted anew: " + common
	}
	return ""
}

// hintedAnew says that nearly all glyphs that have hints have others than before: one hand, or one program,
// went over the whole font.
func (r *Revision) hintedAnew() bool {
	const nearlyAll = 0.75
	r.anew.Do(func() {
		hinted, others := 0, 0
		r.unhinted = true
		for _, ref := range r.now.Refs() {
			was, ok := r.former(ref)
			if !ok {
				continue
			}
			has := hasHints(r.now, ref.Index)
			if has || hasHints(r.old, was) {
				hinted++
			}
			r.unhinted = r.unhinted && !has
			if slices.Contains(r.others(was, ref.Index), hints) {
				others++
			}
		}
		r.isAnew = float64(others) >= nearlyAll*float64(hinted)
	})
	return r.isAnew
}

// hasHints says that a glyph has a program of its own, or declares stems.
func hasHints(f Face, index int) bool {
	switch f := f.(type) {
	case *TrueType:
		var g Glyph
		return f.ReadGlyph(&g, index) == nil && len(g.Instructions) > 0
	case PostScript:
		d, err := f.Drawing(index)
		return err == nil && len(d.Hints) > 0
	}
	return false
}

// SameHints says that nothing which hints a glyph is another: neither what it has in common with
// others nor its own, nor those of what it is made of.
func (r *Revision) SameHints(now glyph.Ref) bool {
	was, ok := r.former(now)
	return ok && r.old.Format() == r.now.Format() && r.common(was, now.Index) == "" &&
		r.every(was, now.Index, maxDepth, func(what change) bool { return what != hints })
}

// every says of all that is another of a glyph and its components that it is so.
func (r *Revision) every(was, now, depth int, is func(change) bool) bool {
	if slices.ContainsFunc(r.others(was, now), func(what change) bool { return !is(what) }) {
		return false
	}
	for a, b := range r.parts(was, now) {
		if depth == 0 || !r.every(a, b, depth-1, is) {
			return false
		}
	}
	return true
}

// parts gives the components of a glyph that are not as they were, with what they were.
func (r *Revision) parts(was, now int) func(yield func(a, b int) bool) {
	return func(yield func(a, b int) bool) {
		var g, h Glyph
		if r.oldParts == nil || r.old.(*TrueType).ReadGlyph(&g, was) != nil || r.now.(*TrueType).ReadGlyph(&h, now) != nil {
			return
		}
		for i := range min(len(g.Components), len(h.Components)) {
			a, b := g.Components[i].Index, h.Components[i].Index
			if uint(a) >= uint(len(r.oldParts)) || uint(b) >= uint(len(r.newParts)) || r.oldParts[a] == r.newParts[b] && r.scale == 1 {
				continue
			}
			if !yield(a, b) {
				return
			}
		}
	}
}

// own is what of a glyph itself, or of the first of its components that changed, became another.
func (r *Revision) own(was, now, depth int) string {
	others := r.others(was, now)
	if len(others) == 0 {
		for a, b := range r.parts(was, now) {
			if depth == 0 {
				return ""
			}
			if text := r.own(a, b, depth-1); text != "" {
				return text
			}
		}
		return ""
	}
	var list []string
	for _, what := range others {
		text := r.told(what, was, now)
		if text == "" && what == outlines && slices.Contains(others, hints) && r.hints(was, now) == programGone {
			text = "the outline is another" // as where contours were merged and hints given up
		}
		if text == "" {
			return ""
		}
		list = append(list, text)
	}
	return strings.Join(list, ", and ")
}

// told says in a few words how it is another; "" where they do not do.
func (r *Revision) told(what change, was, now int) string {
	switch what {
	case outlines:
		d, err := outlineOf(r.old, was)
		e, failed := outlineOf(r.now, now)
		if err == nil && failed == nil {
			return movedPoints(string(r.keyOf(now)), d, e)
		}
	case components:
		var g, h Glyph
		if r.old.(*TrueType).ReadGlyph(&g, was) == nil && r.now.(*TrueType).ReadGlyph(&h, now) == nil {
			return r.replaced(g.Components, h.Components)
		}
	case numbering:
		return r.renumbered(was, now)
	case hints:
		return r.hints(was, now)
	case bearings:
		_, a := r.old.(*TrueType).HMetrics(was)
		_, b := r.now.(*TrueType).HMetrics(now)
		return changed("left side bearing", fixed.Int26_6(b-a)<<6, "more", "less")
	case advances:
		return changed("advance", r.now.Advance(now)-r.old.Advance(was), "wider", "narrower")
	}
	return ""
}

// keyOf is what a glyph is called now.
func (r *Revision) keyOf(index int) glyph.Key { return r.now.Refs()[index].Key }

// outlineOf is that of a glyph in font units, without the zones of its face.
func outlineOf(f Face, index int) (*glyph.Outline, error) {
	switch f := f.(type) {
	case *TrueType:
		d, err := f.design(index)
		if err != nil {
			return nil, err
		}
		return &d.Outline, nil
	case PostScript:
		d, err := f.Drawing(index)
		if err != nil {
			return nil, err
		}
		return &d.Outline, nil
	}
	return nil, ErrUnsupported
}

func changed(what string, by fixed.Int26_6, more, less string) string {
	if by == 0 {
		return ""
	}
	way := more
	if by < 0 {
		by, way = -by, less
	}
	return fmt.Sprintf("the %s is %s %s", what, counted(units(by)), way)
}

// renumbered tells of points that have other numbers, which programs go by.
func (r *Revision) renumbered(was, now int) string {
	switch a, b := r.old.(*TrueType).IsComposite(was), r.now.(*TrueType).IsComposite(now); {
	case a && !b:
		return "the components are one outline now"
	case b && !a:
		return "the outline is made of components now"
	}
	return "the points are numbered otherwise, and programs go by numbers"
}

const programGone = "the program is gone"

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
			return programGone
		case len(g.Instructions) == 0:
			return "the program is new"
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
		return "no stems are declared any more"
	case len(was) == 0 && len(now) > 0:
		return "stems are declared, and none were"
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
