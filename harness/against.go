package harness

import (
	"context"
	"fmt"

	"smokeproof/golden"
)

// Against holds what the run draws against what another run of the same devices and sizes draws, of other
// font files, with nothing approved. A glyph that only this run has is a finding as much as one that is missing.
func (r *Run) Against(ctx context.Context, old *Run, yield func(*StrikeResult) error) (*Summary, error) {
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
		was := &golden.Strike{ID: s.Strike}
		for i := range before {
			if before[i].Err == nil {
				was.Cells = append(was.Cells, before[i].Cell)
			}
		}
		c := r.judging(ctx, s)
		out := c.hold(was, drawn)
		c.extras()
		sortWorstFirst(out.Changes)
		return out, nil
	}), yield)
}
