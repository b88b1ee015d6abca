package main

import (
	"path/filepath"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var reviewVerb = verb{
	name: "review", does: "write the bundle that people read from the last results",
	example: "smokeproof review && open out/review/index.html",
	run:     runReview,
}

func runReview(c *call) (int, error) {
	var results, out string
	c.planFlag()
	c.flags.StringVar(&results, "results", "", "results `FILE`; without it out/"+harness.ResultsName+" beside the plan")
	c.flags.StringVar(&out, "out", "", "`DIR` of the bundle; without it review beside the results")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	if results == "" {
		p, err := c.loadPlan()
		if err != nil {
			return 0, err
		}
		results = filepath.Join(filepath.Dir(p.Path), "out", harness.ResultsName)
	}
	res, err := harness.ReadResults(results)
	if err != nil {
		return 0, err
	}
	if out == "" {
		out = filepath.Join(filepath.Dir(results), "review")
	}
	if err := review.Write(c.ctx, out, res, review.Options{}); err != nil {
		return harness.ExitIncomplete, err
	}
	c.say("open %s", filepath.Join(out, "index.html"))
	return harness.ExitOK, nil
}
