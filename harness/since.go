package harness

import (
	"context"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// HoldSince holds the run against a store of the past, as golden.OpenAt gives
// it. A glyph that nobody had approved by then is held against its golden of
// now, and marked so: it is new since, not new.
func (r *Run) HoldSince(past *golden.Store) { r.now, r.Store = r.Store, past }

// since is what was approved after the revision that a comparison goes by.
type since struct {
	revision string
	strike   *golden.Strike
	goldens  map[glyph.Key]*glyph.Cell
}

// readSince is nil where the run goes by the goldens of now.
func (r *Run) readSince(ctx context.Context, id glyph.Strike) (*since, error) {
	if r.now == nil {
		return nil, nil
	}
	strike, err := r.now.Load(ctx, id)
	if err != nil {
		return nil, err
	}
	out := &since{r.Store.Revision(), strike, make(map[glyph.Key]*glyph.Cell, len(strike.Cells))}
	for i := range strike.Cells {
		if c := &strike.Cells[i]; strike.Approved(c) {
			out.goldens[c.Key] = c
		}
	}
	return out, nil
}
