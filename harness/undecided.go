package harness

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"

	"smokeproof/harness/glyph"
)

// undecided is what a decision asks of a change, and no more: a strike of ideographs has as many changes as
// glyphs, and the next one waits beside it.
type undecided struct {
	urgency
	status   Status
	severity string            // as the change has it
	worst    string            // severity of its worst finding; "" where there is none
	fault    string            // why it is undrawn
	cell     *glyph.Cell       // the candidate, or what stands for its absence
	drawn    bool              // there is a candidate
	stored   *glyph.Cell       // its golden, where there is no candidate
	over     [sha256.Size]byte // digest of its golden; zero where there is none
	byHand   bool
}

// in names it in messages.
func (u *undecided) in(s *StrikeJob) string { return fmt.Sprintf("%s: %s", s.Strike, u.cell.Key) }

// undecidedStrike is a strike that is to be decided on, its changes worst first.
type undecidedStrike struct {
	equal   int
	changes []undecided
}

// undecided draws a strike and tells what there is to decide on.
func (r *Run) undecided(ctx context.Context, s *StrikeJob) (*undecidedStrike, error) {
	var out undecidedStrike
	res, err := r.checkStrike(ctx, s, func(c *Change) {
		u := undecided{
			urgency: c.urgency(), status: c.Status, severity: c.Severity,
			cell: c.candidate(), drawn: c.cell != nil, byHand: c.ByHand(),
		}
		if c.stored != nil {
			u.over = c.stored.Digest()
		}
		if !u.drawn {
			u.stored = c.stored
		}
		if len(c.Findings) > 0 {
			u.worst = c.Findings[0].Severity
		}
		if c.Status == StatusUndrawn {
			u.fault = c.Findings[0].Text
		}
		out.changes = append(out.changes, u)
	})
	if err != nil {
		return nil, err
	}
	out.equal = res.Equal
	slices.SortStableFunc(out.changes, func(a, b undecided) int { return a.compare(b.urgency) })
	return &out, nil
}
