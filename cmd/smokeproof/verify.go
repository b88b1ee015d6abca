package main

import (
	"smokeproof/golden"
	"smokeproof/harness"
)

var verifyVerb = verb{
	name: "verify", does: "prove that every golden is what was approved",
	example: "smokeproof verify",
	run:     runVerify,
}

func runVerify(c *call) (int, error) {
	c.planFlag()
	c.flags.BoolVar(&c.json, "json", false, "print for a machine")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	p, err := c.loadPlan()
	if err != nil {
		return 0, err
	}
	store := golden.Open(p.Goldens)
	problems, err := store.Verify(c.ctx)
	if err != nil {
		return 0, err
	}
	orphans, err := store.Orphans(p.Strikes())
	if err != nil {
		return 0, err
	}
	problems = append(problems, orphans...)
	if c.json {
		if problems == nil {
			problems = []golden.Problem{}
		}
		if err := c.printJSON(map[string]any{"problems": problems}); err != nil {
			return 0, err
		}
	} else {
		for _, q := range problems {
			c.say("%s", q)
		}
		if len(problems) == 0 {
			c.say("every golden is what was approved")
		} else {
			c.say("problems: %d", len(problems))
		}
	}
	if len(problems) > 0 {
		return harness.ExitFindings, nil
	}
	return harness.ExitOK, nil
}
