package main

import (
	"fmt"
	"os"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var approveVerb = verb{
	name: "approve", does: "store candidates as goldens: all that are new, those named, or a decisions file",
	example: "smokeproof approve --by \"Ada Marsh\" --why \"first set, seen under the loupe\"",
	run:     runApprove,
}

func runApprove(c *call) (int, error) {
	var o harness.ApproveOptions
	var also, decisions string
	var by string
	c.selectionFlags()
	c.flags.StringVar(&by, "by", "", "`NAME` of the person who approves; without it git's user")
	c.flags.StringVar(&o.Why, "why", "", "the reason, in a few words (needed)")
	c.flags.BoolVar(&o.Changed, "changed", false, "approve what differs from its golden too, not only what is new; --glyphs implies it")
	c.flags.StringVar(&also, "also", "", "`critical`: include candidates with critical findings")
	c.flags.StringVar(&decisions, "decisions", "", "carry out a decisions `FILE` that review exported")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	if also != "" && also != "critical" {
		return 0, fmt.Errorf("--also %q is unknown; the only word is critical", also)
	}
	o.Critical = also == "critical"
	o.Changed = o.Changed || c.flags.Changed("glyphs")
	if decisions != "" {
		ds, err := readDecisions(decisions)
		if err != nil {
			return 0, err
		}
		o.Decisions = ds.list
		if by == "" {
			by = ds.by
		}
	} else if o.Why == "" {
		return 0, fmt.Errorf("no reason given; say --why \"…\"")
	}
	var err error
	if o.By, err = person(by); err != nil {
		return 0, err
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	a, err := r.Approve(c.ctx, o)
	if a != nil {
		c.sayApproved(a)
	}
	switch {
	case err != nil:
		return harness.ExitIncomplete, err
	case len(a.Undrawn) > 0:
		return harness.ExitIncomplete, nil
	case len(a.Refused)+len(a.Stale) > 0:
		return harness.ExitFindings, nil
	}
	return harness.ExitOK, nil
}

func (c *call) sayApproved(a *harness.Approved) {
	c.say("%d approved, %d rejected, %d put off; %d were approved already", a.Approved, a.Rejected, a.Later, a.Equal)
	c.sayList("refused, a critical finding; look at it, then name it with --also critical", a.Refused)
	c.sayList("no longer what was decided on; check and review again", a.Stale)
	c.sayList("not drawn", a.Undrawn)
}

// sayList prints no more lines than a person reads.
func (c *call) sayList(what string, list []string) {
	const most = 10
	for _, s := range list[:min(most, len(list))] {
		c.say("  %s: %s", s, what)
	}
	if n := len(list) - most; n > 0 {
		c.say("  and %d more: %s", n, what)
	}
}

type decisionList struct {
	by   string
	list []harness.Decision
}

func readDecisions(path string) (*decisionList, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("decisions: %w", err)
	}
	defer f.Close()
	d, err := review.ReadDecisions(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	out := &decisionList{by: d.By, list: []harness.Decision{}}
	for _, e := range d.Decisions {
		h, err := e.Harness()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		out.list = append(out.list, h)
	}
	return out, nil
}
