package harness

import (
	"fmt"
	"slices"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Notes tells, face by face, what a person should know before a face is proofed:
// what the plan's glyphs name and the font does not have, that of a variable font one
// instance is drawn, that a font has no hints, or lacks a table of theirs, and glyphs whose advance is another one in the AFM file beside the font.
func (r *Run) Notes() []string {
	notes := []string{}
	for i := range r.Plan.Faces {
		f := &r.Plan.Faces[i]
		if opened := r.faces[f.Name]; opened != nil {
			notes = append(notes, notesOf(f, opened)...)
		}
	}
	return notes
}

func notesOf(pf *PlanFace, opened face.Face) (notes []string) {
	note := func(format string, args ...any) {
		notes = append(notes, fmt.Sprintf("face %q: ", pf.Name)+fmt.Sprintf(format, args...))
	}
	if !pf.Glyphs.All() {
		if none := pf.Glyphs.Without(opened.Refs()); !none.All() {
			note("no glyph of the font answers to these of the plan: %s", none)
		}
	}
	if !hinted(opened) {
		note("no glyph of it has hints: each is drawn as its outline falls on the pixels")
	}
	if why := lacks(opened); why != "" {
		note("%s; a build may have lost it", why)
	}
	switch f := opened.(type) {
	case *face.TrueType:
		if f.Table("fvar") != nil {
			note("of this variable font the default instance is drawn; each other that ships is proofed as a font of its own")
		}
	case *face.Type1:
		if others := f.OtherAdvances(); len(others) > 0 {
			o := others[0]
			note("the AFM file beside it gives other advances to %d glyphs, first %q: font %g, AFM %g; text set by the one prints as the other",
				len(others), o.Key, float64(o.Font)/64, float64(o.AFM)/64)
		}
	}
	return notes
}

// lacks is what face.Lacks says of a face: of more than one glyph, as tools give .notdef a program in fonts
// that have no other.
func lacks(f face.Face) string {
	n := 0
	for _, ref := range f.Refs() {
		if why := face.Lacks(f, ref.Index); why != "" {
			if n++; n > 1 {
				return why
			}
		}
	}
	return ""
}

// hinted says that some glyph of a face has a program or a declared stem; it holds of a face that is only
// remembered, and not read.
func hinted(f face.Face) bool {
	var has func(index int) bool
	switch f := f.(type) {
	case *face.TrueType:
		var g face.Glyph
		has = func(index int) bool { return f.ReadGlyph(&g, index) == nil && len(g.Instructions) > 0 }
	case face.PostScript:
		has = func(index int) bool {
			d, err := f.Drawing(index)
			return err == nil && len(d.Hints) > 0
		}
	default:
		return true
	}
	return slices.ContainsFunc(f.Refs(), func(ref glyph.Ref) bool { return has(ref.Index) })
}
