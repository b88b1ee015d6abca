package golden

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"smokeproof/harness/glyph"
)

// Problem is one disagreement between goldens and approvals.
type Problem struct {
	Path  string    `json:"path"` // of the strike, relative to the store, without ending
	Glyph glyph.Key `json:"glyph"`
	Text  string    `json:"text"`
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
	var out []Problem
	for _, base := range bases {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		rel, err := filepath.Rel(s.dir, base)
		if err != nil {
			return nil, err
		}
		out = append(out, s.verifyStrike(base, filepath.ToSlash(rel))...)
	}
	return out, nil
}

func (s *Store) verifyStrike(base, rel string) []Problem {
	if err := s.inside(base); err != nil {
		return []Problem{{Path: rel, Text: err.Error()}}
	}
	data, err := os.ReadFile(base + ".approvals")
	if errors.Is(err, fs.ErrNotExist) {
		return []Problem{{Path: rel, Text: "goldens without an approvals file; approve them"}}
	} else if err != nil {
		return []Problem{{Path: rel, Text: err.Error()}}
	}
	a, err := readApprovals(data)
	if err != nil {
		return []Problem{{Path: rel, Text: "approvals: " + err.Error() + "; restore the file from git"}}
	}
	font, err := readStrikeFile(base)
	if err != nil {
		return []Problem{{Path: rel, Text: err.Error()}}
	}
	if font == nil {
		font = &Font{}
	}
	return hold(rel, a, font.Cells)
}

// hold compares bitmaps with approvals, both ways.
func hold(rel string, a *approvals, cells []glyph.Cell) []Problem {
	var out []Problem
	add := func(k glyph.Key, format string, args ...any) {
		out = append(out, Problem{rel, k, fmt.Sprintf(format, args...)})
	}
	approved, seen := a.approved(), map[glyph.Key]bool{}
	for i := range cells {
		c := &cells[i]
		l, ok := approved[c.Key]
		digest := c.Digest()
		switch {
		case seen[c.Key]:
			add(c.Key, "stands twice in the bitmap font; keep one")
		case !ok:
			add(c.Key, "has a bitmap that nobody approved")
		case l.digest != encodeMark(digest[:]):
			x := a.acts[l.act]
			add(c.Key, "is not the bitmap that %s approved on %s; restore it, or approve it anew", x.by, x.when.Format("2006-01-02"))
		}
		seen[c.Key] = true
	}
	gone := map[glyph.Key]bool{}
	for _, l := range a.glyphs {
		if a.acts[l.act].verdict != Approve {
			continue
		}
		stands := approved[l.key]
		if l.digest != stands.digest && a.acts[l.act].when.Equal(a.acts[stands.act].when) {
			add(l.key, "has two approvals of the same moment, as after a merge; decide which stands")
		}
		if !seen[l.key] && !gone[l.key] {
			gone[l.key] = true
			add(l.key, "was approved, but its bitmap is gone")
		}
	}
	return out
}
