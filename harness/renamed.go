package harness

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// renamed gives goldens whose names the face no longer has to the glyphs that have other names now: to
// that of the same character, or where there is none of the same index. The bitmaps stay, so the next
// check holds the candidates against what was approved.
func (a *approval) renamed(ctx context.Context) error {
	for i := range a.run.strikes {
		s := &a.run.strikes[i]
		have, err := a.goldens(ctx, s)
		if err != nil {
			return err
		}
		ds := a.carried(s, have)
		if len(ds) == 0 {
			continue
		}
		if err := a.run.Store.Record(ctx, s.Strike, ds); err != nil {
			return fmt.Errorf("%s: %w", s.Strike, err)
		}
		a.out.Renamed += len(ds) / 2
	}
	return nil
}

// carried are two decisions for each golden that is carried over: its bitmap approved under the new
// name, and gone under the old one. What nobody approved, or two branches dispute, stays.
func (a *approval) carried(s *StrikeJob, have *golden.Strike) []golden.Decision {
	names := namesOf(a.run.faces[s.Face.Name].Refs(), have.Cells)
	disputed := have.Disputed()
	var ds []golden.Decision
	for i := range have.Cells {
		c := &have.Cells[i]
		ref, ok := names.now(c.Ref)
		if !ok || !a.run.options.Filter.Glyphs.Has(ref) || !have.Approved(c) || slices.Contains(disputed, c.Key) {
			continue
		}
		under, gone := a.decision(s), a.decision(s)
		under.Cell, under.Over, under.Renderer = *c, new([sha256.Size]byte), glyph.Identity{Name: "stored"}
		under.Cell.Ref = ref
		gone.Verdict, gone.Cell, gone.Over = golden.Gone, *c, new([sha256.Size]byte)
		*gone.Over = c.Digest()
		ds = append(ds, under, gone)
	}
	return ds
}

// names are the glyphs of a face that have no golden, to be found by what a name does not change.
type names struct {
	has     map[glyph.Key]bool // all of the face
	byCode  map[rune]glyph.Ref
	byIndex map[int]glyph.Ref // those without a character
}

func namesOf(refs []glyph.Ref, cells []glyph.Cell) *names {
	n := &names{map[glyph.Key]bool{}, map[rune]glyph.Ref{}, map[int]glyph.Ref{}}
	taken := map[glyph.Key]bool{}
	for i := range cells {
		taken[cells[i].Key] = true
	}
	for _, r := range refs {
		switch n.has[r.Key] = true; {
		case taken[r.Key]:
		case r.Code != glyph.NoCode:
			n.byCode[r.Code] = r
		default:
			n.byIndex[r.Index] = r
		}
	}
	return n
}

// now is the glyph that a golden's has become; false where it has its name still, or is no more.
func (n *names) now(was glyph.Ref) (ref glyph.Ref, ok bool) {
	switch {
	case n.has[was.Key]:
		return ref, false
	case was.Code != glyph.NoCode:
		ref, ok = n.byCode[was.Code]
	default:
		ref, ok = n.byIndex[was.Index]
	}
	return ref, ok
}
