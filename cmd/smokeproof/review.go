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
	p, planErr := c.loadPlan()
	if results == "" {
		if planErr != nil {
			return 0, planErr
		}
		results = filepath.Join(filepath.Dir(p.Path), "out", harness.ResultsName)
	}
	res, err := harness.ReadResults(results)
	if err != nil {
		return 0, err
	}
	var o review.Options
	if planErr == nil { // results from elsewhere are shown without a plan, their ramps with gaps
		if o.Standing, err = p.Standing(c.ctx, res); err != nil {
			return 0, err
		}
	}
	if out == "" {
		out = filepath.Join(filepath.Dir(results), "review")
	}
	if err := review.Write(c.ctx, out, res, o); err != nil {
		return harness.ExitIncomplete, err
	}
	c.say("open %s", filepath.Join(out, "index.html"))
	return harness.ExitOK, nil
}
