package harness

import (
	"context"
	"fmt"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// Revisions hold each face of the run, by its name, against that of another run of the same devices and sizes.
func (r *Run) Revisions(old *Run) map[string]*face.Revision {
	all := map[string]*face.Revision{}
	for i := range min(len(r.strikes), len(old.strikes)) {
		if name := r.strikes[i].Face.Name; all[name] == nil {
			all[name] = face.NewRevision(old.faces[old.strikes[i].Face.Name], r.faces[name])
		}
	}
	return all
}

// Against holds what the run draws against what another run of the same devices and sizes draws, of other
// font files, whose Revisions those are, with nothing approved. A glyph that only this run has is a finding as much as one that is missing.
// Glyphs that have other names in the other files are found by their characters.
func (r *Run) Against(ctx context.Context, old *Run, revisions map[string]*face.Revision, yield func(*StrikeResult) error) (*Summary, error) {
	if len(r.strikes) != len(old.strikes) {
		return nil, fmt.Errorf("%w: one run has %d strikes, the other %d; give both the same devices and sizes", ErrUsage, len(r.strikes), len(old.strikes))
	}
	return r.judged(ctx, false, alone(func(ctx context.Context, s *StrikeJob) (*StrikeResult, error) {
		before, err := old.draw(ctx, &old.strikes[s.place])
		if err != nil {
			return nil, err
		}
		drawn, err := r.draw(ctx, s)
		if err != nil {
			return nil, err
		}
		r.rename(s, before)
		was := &golden.Strike{ID: s.Strike}
		for i := range before {
			if before[i].Err == nil {
				was.Cells = append(was.Cells, before[i].Cell)
			}
		}
		c := r.judging(ctx, s)
		c.revised, c.hintedAlike = revisions[s.Face.Name].Reason, revisions[s.Face.Name].SameHints
		out, err := c.hold(was, undrawnIfEither(before, drawn))
		if err != nil {
			return nil, err
		}
		c.oneSided()
		sortWorstFirst(out.Changes)
		return out, nil
	}), yield)
}

// undrawnIfEither gives the drawings of a font, those undrawn that could not be drawn of the font before:
// there is nothing to hold them against.
func undrawnIfEither(before, drawn []render.Drawn) []render.Drawn {
	at := make(map[glyph.Key]int, len(drawn))
	for i := range drawn {
		at[drawn[i].Cell.Key] = i
	}
	for i := range before {
		b := &before[i]
		if b.Err == nil {
			continue
		}
		b.Err = fmt.Errorf("of the old font: %w", b.Err)
		if j, ok := at[b.Cell.Key]; !ok {
			drawn = append(drawn, *b)
		} else if drawn[j].Err == nil {
			drawn[j].Err = b.Err
		}
	}
	return drawn
}

// rename gives drawings of another font the names that their glyphs have in this run's. An index stands
// for a glyph only where one of the fonts has no name for it.
func (r *Run) rename(s *StrikeJob, before []render.Drawn) {
	cells := make([]glyph.Cell, len(before))
	for i := range before {
		cells[i].Ref = before[i].Cell.Ref
	}
	names := namesOf(r.faces[s.Face.Name].Refs(), cells)
	for i := range before {
		was := &before[i].Cell.Ref
		if is, ok := names.now(*was); ok && (was.Code != glyph.NoCode || was.Name == "" || is.Name == "") {
			*was = is
		}
	}
}
