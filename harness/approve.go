package harness

import (
	"context"
	"fmt"
	"time"

	"smokeproof/golden"
)

// ApproveOptions say what to approve and on whose word.
type ApproveOptions struct {
	By, Why   string
	Changed   bool       // glyphs that differ from their golden too, not only new ones
	Critical  bool       // even those with a critical finding
	Decisions []Decision // decide these glyphs only, each by name and digest
}

// Decision is one verdict of a person on one candidate, as review exports it.
type Decision struct {
	Face, Device, Size, Glyph string
	Digest                    string // hex, of the candidate that was looked at
	Verdict                   golden.Verdict
	Why                       string
	Until                     time.Time
}

// Approved counts what Approve did, and names what it left alone.
type Approved struct {
	Approved, Rejected, Later int
	Equal                     int
	Refused                   []string // critical, and nobody said so
	Stale                     []string // decided on a bitmap that is no longer drawn
	Undrawn                   []string
}

// Approve draws every strike and records the chosen candidates as goldens.
// Each strike is written whole or not at all.
func (r *Run) Approve(ctx context.Context, o ApproveOptions) (*Approved, error) {
	a := approval{run: r, options: o, when: time.Now().UTC().Truncate(time.Second), wanted: map[[4]string]*Decision{}}
	for i := range o.Decisions {
		d := &o.Decisions[i]
		a.wanted[[4]string{d.Face, d.Device, d.Size, d.Glyph}] = d
	}
	err := inOrder(ctx, r.options.Workers, r.strikes, r.checkStrike, func(s *StrikeJob, res *StrikeResult) error {
		return a.strike(ctx, s, res)
	})
	for _, d := range a.wanted {
		a.out.Stale = append(a.out.Stale, fmt.Sprintf("%s %s pt %s: %s: nothing to decide", d.Face, d.Size, d.Device, d.Glyph))
	}
	return &a.out, err
}

type approval struct {
	run     *Run
	options ApproveOptions
	when    time.Time
	wanted  map[[4]string]*Decision // not met yet
	out     Approved
}

func (a *approval) strike(ctx context.Context, s *StrikeJob, res *StrikeResult) error {
	a.out.Equal += res.Equal
	var ds []golden.Decision
	for i := range res.Changes {
		if d, ok := a.decide(s, &res.Changes[i]); ok {
			ds = append(ds, d)
		}
	}
	if len(ds) == 0 {
		return nil
	}
	if err := a.run.Store.Record(ctx, s.Strike, ds); err != nil {
		return fmt.Errorf("%s: %w", s.Strike, err)
	}
	for _, d := range ds {
		switch d.Verdict {
		case golden.Approve:
			a.out.Approved++
		case golden.Reject:
			a.out.Rejected++
		case golden.Later:
			a.out.Later++
		}
	}
	return nil
}

// decide turns one change into a decision, or says that there is none.
func (a *approval) decide(s *StrikeJob, c *Change) (golden.Decision, bool) {
	where := fmt.Sprintf("%s: %s", s.Strike, c.Glyph)
	d := golden.Decision{
		Verdict: golden.Approve, By: a.options.By, Why: a.options.Why, When: a.when,
		FaceDigest: a.run.faces[s.Face.Name].Digest(), Renderer: a.run.devices[s.Device.Name].id, Severity: c.Severity,
	}
	if a.options.Decisions != nil {
		k := [4]string{c.Face, c.Device, c.Size, c.Glyph}
		want := a.wanted[k]
		if want == nil {
			return d, false
		}
		delete(a.wanted, k)
		if c.cell == nil || want.Digest != c.Digest {
			a.out.Stale = append(a.out.Stale, where+": drawn differently since it was decided")
			return d, false
		}
		d.Verdict, d.Until = want.Verdict, want.Until
		if want.Why != "" {
			d.Why = want.Why
		}
	} else {
		switch {
		case c.Status == "undrawn":
			a.out.Undrawn = append(a.out.Undrawn, where)
			return d, false
		case c.cell == nil, c.Status == "changed" && !a.options.Changed:
			return d, false
		case c.Severity == "critical" && !a.options.Critical:
			a.out.Refused = append(a.out.Refused, where)
			return d, false
		}
	}
	d.Cell = *c.cell
	return d, true
}
