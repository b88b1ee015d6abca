package harness

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
)

// audited says whether a strike that the cache knows is drawn all the same, to
// hold the one against the other.
func (r *Run) audited() bool { return rand.Float64() < r.options.Audit }

// audit draws a strike that the cache remembers. The two must come to the same:
// where they do not, the run ends, for a cache that is wrong once may be wrong
// anywhere.
func (r *Run) audit(ctx context.Context, s *StrikeJob, key string, old *entry) (*StrikeResult, error) {
	now, err := r.checkStrike(ctx, s, nil)
	if err != nil {
		return nil, err
	}
	drawn := entry{Parts: old.Parts, Record: now.StrikeRecord}
	if drawn.Changes, err = now.all(); err != nil {
		return nil, err
	}
	if a, b := old.text(), drawn.text(); a == nil || !bytes.Equal(a, b) {
		return nil, fmt.Errorf("%s: it comes to something else than is remembered: %s; check with --no-cache until the cause is found, and please report it with %s",
			s.Strike, contrast(&old.Record, &now.StrikeRecord), r.cache.path(strikesDir, key))
	}
	return now, nil
}

// text is nil for what cannot be written down.
func (e *entry) text() []byte {
	one := *e
	if len(one.Changes) == 0 {
		one.Changes = nil // none are written alike
	}
	b, err := json.Marshal(&one)
	if err != nil {
		return nil
	}
	return b
}

// contrast names the counts in which two records differ.
func contrast(was, is *StrikeRecord) string {
	if was.Counts == is.Counts {
		return "as many equal and changed glyphs, but other changes"
	}
	tell := func(c *Counts) string {
		return fmt.Sprintf("%d equal, %d changed, %d new, %d missing, %d undrawn", c.Equal, c.Changed, c.New, c.Missing, c.Undrawn)
	}
	return tell(&was.Counts) + " remembered, " + tell(&is.Counts) + " drawn"
}
