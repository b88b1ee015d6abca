package golden

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"time"

	"smokeproof/harness/glyph"
)

// Problem is one disagreement between goldens and approvals.
type Problem struct {
	Path  string    `json:"path"`  // of the strike, relative to the store, without ending
	Glyph glyph.Key `json:"glyph"` // "" where it is about the whole strike
	Text  string    `json:"text"`
}

func (p Problem) String() string {
	if p.Glyph == "" {
		return p.Path + ": " + p.Text
	}
	return p.Path + ": " + EscapeKey(p.Glyph) + ": " + p.Text
}

// Verify proves that every golden of the store is what was approved: each
// bitmap has an approval of its digest, each approval its bitmap, and no
// approvals file was changed by hand.
func (s *Store) Verify(ctx context.Context) ([]Problem, error) {
	unlock, err := s.lock(ctx, shared)
	if err != nil {
		return nil, err
	}
	defer unlock()
	bases, err := s.strikes()
	if err != nil {
		return nil, err
	}
	files := s.files()
	defer files.Close()
	var out []Problem
	for _, base := range bases {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		rel, err := filepath.Rel(s.dir, base)
		if err != nil {
			return nil, err
		}
		out = append(out, verifyStrike(files, rel)...)
	}
	return out, nil
}

// Orphans finds the strikes of the store that are not among the known ones.
func (s *Store) Orphans(known []glyph.Strike) ([]Problem, error) {
	bases, err := s.strikes()
	if err != nil {
		return nil, err
	}
	places := map[string]bool{}
	for _, id := range known {
		places[filepath.Join(s.dir, place(id))] = true
	}
	var out []Problem
	for _, base := range bases {
		if !places[base] {
			rel, err := filepath.Rel(s.dir, base)
			if err != nil {
				return nil, err
			}
			out = append(out, Problem{Path: filepath.ToSlash(rel), Text: "no strike of the plan has these goldens; correct the plan, rename their folder where the face was renamed, remove the files, or let the other plan that has them keep its goldens in a folder of its own"})
		}
	}
	return out, nil
}

func verifyStrike(files *storeFiles, rel string) []Problem {
	fault := func(format string, args ...any) []Problem {
		return []Problem{{Path: filepath.ToSlash(rel), Text: fmt.Sprintf(format, args...)}}
	}
	data, err := files.read(rel + ".approvals")
	if errors.Is(err, fs.ErrNotExist) {
		return fault("goldens without an approvals file; approve them with approve --stored")
	} else if err != nil {
		return fault("%v", err)
	}
	a, err := readApprovals(data, nil)
	if err != nil {
		return fault("approvals: %v", advised(err, restore))
	}
	font, ending, err := files.readFont(rel)
	if err != nil {
		return fault("%v", err)
	}
	if font == nil {
		font = &Font{}
	}
	out := disagreements(filepath.ToSlash(rel), a, font.Cells)
	if ending == ".bdf" && files.has(rel+".bdf.gz") {
		out = append(out, fault("there are both .bdf and .bdf.gz; remove one")...)
	}
	return out
}

// disagreements compares bitmaps with approvals, both ways.
func disagreements(rel string, a *approvals, cells []glyph.Cell) []Problem {
	var out []Problem
	add := func(k glyph.Key, format string, args ...any) {
		out = append(out, Problem{rel, k, fmt.Sprintf(format, args...)})
	}
	disputes := a.disputes()
	for _, d := range disputes {
		one, other := d.one.act, d.other.act
		add(d.one.key, "was decided on two branches: %s by %s on %s, %s by %s on %s; look at it, then approve it anew with --glyphs",
			one.verdict, one.by, one.when.Format(time.DateOnly), other.verdict, other.by, other.when.Format(time.DateOnly))
	}
	if len(disputes) == 0 && a.balance() != (tally{}) {
		add("", "approvals: %v: %s; %s", errTampered, astray, restore)
	}
	approved, seen := a.approved(), map[glyph.Key]bool{}
	for i := range cells {
		c := &cells[i]
		l, digest := approved.of(c.Ref), c.Digest()
		switch {
		case seen[c.Key]:
			add(c.Key, "stands twice in the bitmap font; keep one")
		case l == nil:
			add(c.Key, "has a bitmap that nobody approved; approve --stored records who did")
		case !l.marks(digest[:]) && !slices.ContainsFunc(disputes, func(d dispute) bool { return d.holds(c.Key, digest[:]) }):
			add(c.Key, "is not the bitmap that %s approved on %s; restore it, or approve it anew with --stored",
				l.act.by, l.act.when.Format(time.DateOnly))
		}
		seen[c.Key] = true
	}
	for _, l := range approved.lines {
		if !seen[l.key] {
			add(l.key, "was approved by %s on %s, but its bitmap is gone; restore it, or approve the glyph anew",
				l.act.by, l.act.when.Format(time.DateOnly))
		}
	}
	return out
}
