package main

import (
	"fmt"
	"strings"

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
		c.sayProblems(problems)
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

// sayProblems prints a line for each problem of a strike, be it of one glyph or of many.
func (c *call) sayProblems(list []golden.Problem) {
	const most = 4 // glyphs that are named
	first := map[golden.Problem]int{}
	var lines []golden.Problem
	var glyphs [][]string
	for _, q := range list {
		name := golden.EscapeKey(q.Glyph)
		q.Glyph = ""
		i, seen := first[q]
		if !seen || name == "" {
			i = len(lines)
			first[q], lines, glyphs = i, append(lines, q), append(glyphs, nil)
		}
		glyphs[i] = append(glyphs[i], name)
	}
	for i, q := range lines {
		names := glyphs[i]
		if n := len(names) - most; n > 0 {
			names = append(names[:most], fmt.Sprintf("%d more", n))
		}
		if of := strings.Join(names, ", "); of != "" {
			q.Text = of + ": " + q.Text
		}
		c.say("%s", q)
	}
}
