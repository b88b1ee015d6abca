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

// mostNamed is how many glyphs or strikes a line of problems names.
const mostNamed = 4

// sayProblems prints a line for each problem of a strike, be it of one glyph or of many, and
// for one of several strikes.
func (c *call) sayProblems(list []golden.Problem) {
	first := map[golden.Problem]int{}
	var lines []golden.Problem
	var names [][]string // of glyphs, or of strikes where it is of the whole of them
	for _, q := range list {
		name := golden.EscapeKey(q.Glyph)
		if name == "" {
			name, q.Path = q.Path, ""
		}
		q.Glyph = ""
		i, seen := first[q]
		if !seen {
			i = len(lines)
			first[q], lines, names = i, append(lines, q), append(names, nil)
		}
		names[i] = append(names[i], name)
	}
	for i, q := range lines {
		of := names[i]
		if n := len(of) - mostNamed; n > 0 {
			of = append(of[:mostNamed], fmt.Sprintf("%d more", n))
		}
		if q.Path != "" {
			of[0] = q.Path + ": " + of[0]
		}
		c.say("%s: %s", strings.Join(of, ", "), q.Text)
	}
}
