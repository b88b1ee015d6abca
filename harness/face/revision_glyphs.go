package face

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// Differences tells in a line what of a font is another than before: what its glyphs have in common, then of
// how many glyphs that both have the outline, the hints and the advance are others, and which come first.
func (r *Revision) Differences() string {
	if r.old.Format() != r.now.Format() {
		return fmt.Sprintf("one is %s, the other %s", r.old.Format(), r.now.Format())
	}
	var list []string
	if common := r.inCommon(); common != "" {
		list = append(list, common)
	}
	others := map[string][]string{}
	for _, ref := range r.now.Refs() {
		if was, ok := r.former(ref); ok {
			for _, what := range r.others(was, ref.Index) {
				others[what] = append(others[what], string(ref.Key))
			}
		}
	}
	for _, what := range []string{"outlines", "hints", "advances"} {
		if names := others[what]; len(names) > 0 {
			of := "glyphs"
			if len(names) == 1 {
				of = "glyph"
			}
			list = append(list, fmt.Sprintf("%s of %d %s (%s)", what, len(names), of, glyph.FirstOf(names)))
		}
	}
	if len(list) == 0 {
		return "nothing that is drawn"
	}
	return strings.Join(list, "; ")
}

// inCommon is what of the tables, or of the hint dictionary of the first glyph, differs.
func (r *Revision) inCommon() string {
	if a, ok := r.old.(PostScript); ok {
		return sentence(a.Private(0).differences(r.now.(PostScript).Private(0)))
	}
	return r.tables
}

// others are what of a glyph itself is another than before.
func (r *Revision) others(was, now int) (list []string) {
	var outline, hints bool
	switch a := r.old.(type) {
	case *TrueType:
		if r.oldParts[was] == r.newParts[now] {
			return nil
		}
		var g, h Glyph
		if a.ReadGlyph(&g, was) != nil || r.now.(*TrueType).ReadGlyph(&h, now) != nil {
			return nil
		}
		outline = !slices.Equal(g.X, h.X) || !slices.Equal(g.Y, h.Y) || !slices.Equal(g.On, h.On) || !slices.Equal(g.Ends, h.Ends) || !slices.Equal(g.Components, h.Components)
		hints = !slices.Equal(g.Instructions, h.Instructions)
	case PostScript:
		d, err := a.Drawing(was)
		e, failed := r.now.(PostScript).Drawing(now)
		if err != nil || failed != nil {
			return nil
		}
		outline = !reflect.DeepEqual(d.Outline, e.Outline)
		hints = !reflect.DeepEqual(d.Hints, e.Hints) || !reflect.DeepEqual(d.Spans, e.Spans)
	}
	if outline {
		list = append(list, "outlines")
	}
	if hints {
		list = append(list, "hints")
	}
	if r.old.Advance(was) != r.now.Advance(now) {
		list = append(list, "advances")
	}
	return list
}
