package main

import (
	"errors"
	"path/filepath"

	"smokeproof/harness"
)

var gatherVerb = verb{
	name: "gather", args: " DIR...", does: "join the parts that check --shard wrote into the results of one run",
	example: "smokeproof gather out/*-of-8",
	run:     runGather,
}

func runGather(c *call) (int, error) {
	c.planFlag()
	reports := c.reportFlags()
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parse(); err != nil {
		return 0, err
	}
	if c.flags.NArg() == 0 {
		return 0, errors.New("name the folders that check --shard wrote")
	}
	if err := reports.prepare(); err != nil {
		return 0, err
	}
	reports.elsewhere = reports.out != ""
	if !reports.elsewhere {
		p, err := c.loadPlan()
		if err != nil {
			return 0, err
		}
		reports.out = filepath.Join(filepath.Dir(p.Path), "out")
	}
	sum, err := harness.Gather(c.flags.Args(), reports.out)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	return c.report(reports, sum)
}
