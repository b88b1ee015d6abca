package face

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// change is what of a glyph itself became another.
type change string

const (
	outlines   change = "outlines"
	components change = "components" // which, where they stand, how they are placed
	numbering  change = "point numbers"
	hints      change = "hints"
	bearings   change = "left side bearings" // where an outline stands from its origin, in TrueType
	advances   change = "advances"
)

// Differences tells in a line what of a font is another than before: what its glyphs have in common, then of
// how many glyphs that both have the outline, the hints and the advance are others, and which come first.
func (r *Revision) Differences() string {
	if r.old.Format() != r.now.Format() {
		return fmt.Sprintf("one is %s, the other %s", r.old.Format(), r.now.Format())
	}
	var list []string
	if common := r.common(0, 0); common != "" {
		list = append(list, common)
	}
	others := map[change][]string{}
	for _, ref := range r.now.Refs() {
		if was, ok := r.former(ref); ok {
			for _, what := range r.others(was, ref.Index) {
				others[what] = append(others[what], string(ref.Key))
			}
		}
	}
	for _, what := range []change{outlines, components, numbering, hints, bearings, advances} {
		if names := others[what]; len(names) > 0 {
			of := "glyphs"
			if len(names) == 1 {
				of = "glyph"
			}
			list = append(list, fmt.Sprintf("%s of %d %s (%s)", what, len(names), of, glyph.FirstOf(names)))
		}
	}
	if len(list) == 0 {
		return "nothing that is drawn" + r.undrawn()
	}
	return strings.Join(list, "; ")
}

// drawnFromTables are told glyph by glyph; every build has a head of its own, for its date.
var drawnFromTables = append([]string{"CFF ", "head", "maxp"}, byGlyph...)

// undrawn names tables that became others and that nothing is drawn from, such as those of line spacing.
func (r *Revision) undrawn() string {
	a, old := tablesOf(r.old)
	b, is := tablesOf(r.now)
	if !old || !is {
		return ""
	}
	tags := append(slices.Clone(a.tags), b.tags...)
	slices.Sort(tags)
	tags = slices.DeleteFunc(slices.Compact(tags), func(tag string) bool {
		return slices.Contains(drawnFromTables, tag) || slices.Equal(a.get(tag), b.get(tag))
	})
	if len(tags) == 0 {
		return ""
	}
	for i := range tags {
		tags[i] = strings.TrimSpace(tags[i])
	}
	return "; of the rest: " + strings.Join(tags, ", ")
}

// tablesOf are those of a font in an sfnt.
func tablesOf(f Face) (*tables, bool) {
	switch f := f.(type) {
	case *TrueType:
		return f.tables, true
	case *CFF:
		return f.tables, f.tables != nil
	}
	return nil, false
}

// others are what of a glyph itself is another than before; of a glyph that cannot be read, nothing.
func (r *Revision) others(was, now int) []change {
	switch a := r.old.(type) {
	case *TrueType:
		if b, ok := r.now.(*TrueType); ok && (r.oldParts[was] != r.newParts[now] || r.scale != 1) {
			return r.othersTrueType(a, b, was, now)
		}
	case PostScript:
		if b, ok := r.now.(PostScript); ok {
			return r.othersPostScript(a, b, was, now)
		}
	}
	return nil
}

func (r *Revision) othersTrueType(a, b *TrueType, was, now int) (list []change) {
	var g, h Glyph
	if a.ReadGlyph(&g, was) != nil || b.ReadGlyph(&h, now) != nil {
		return nil
	}
	switch composite := len(g.Components) > 0; {
	case composite && len(h.Components) > 0:
		if !slices.EqualFunc(g.Components, h.Components, r.isPlaced) {
			list = append(list, components)
		}
	default:
		d, err := a.design(was)
		e, failed := b.design(now)
		switch {
		case err != nil || failed != nil:
			return nil
		case !composite && len(h.Components) == 0 && r.samePoints(&d.Outline, &e.Outline):
		case sameShape(&d.Outline, &e.Outline):
			list = append(list, numbering)
		default:
			list = append(list, outlines)
		}
	}
	if !slices.Equal(g.Instructions, h.Instructions) {
		list = append(list, hints)
	}
	width, lsb := a.HMetrics(was)
	nowWidth, nowLSB := b.HMetrics(now)
	if !r.isFU(lsb-g.XMin, nowLSB-h.XMin) { // a glyph is moved so that its outline begins at its bearing
		list = append(list, bearings)
	}
	if !r.isFU(width, nowWidth) {
		list = append(list, advances)
	}
	return list
}

func (r *Revision) othersPostScript(a, b PostScript, was, now int) (list []change) {
	d, err := a.Drawing(was)
	e, failed := b.Drawing(now)
	if err != nil || failed != nil {
		return nil
	}
	if !r.samePoints(&d.Outline, &e.Outline) && !sameShape(&d.Outline, &e.Outline) {
		list = append(list, outlines)
	}
	if !slices.EqualFunc(d.Hints, e.Hints, r.isHint) || !reflect.DeepEqual(d.Spans, e.Spans) {
		list = append(list, hints)
	}
	if !r.is(a.Advance(was), b.Advance(now)) {
		list = append(list, advances)
	}
	return list
}

// isHint says that a stem is declared as it was.
func (r *Revision) isHint(was, now Hint) bool {
	return was.Axis == now.Axis && was.Ghost == now.Ghost && r.is(was.Lo, now.Lo) && r.is(was.Hi, now.Hi)
}
