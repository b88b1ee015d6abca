package main

import (
	"fmt"
	"path/filepath"

	"smokeproof/golden"
	"smokeproof/harness"
)

const sinceUsage = "hold against the goldens of `REV`, a tag, branch or commit of git: many small approvals are then judged as one"

// goldensOf turns a run to the goldens of a revision.
func (c *call) goldensOf(r *harness.Run, rev string) error {
	store, err := golden.OpenAt(c.ctx, r.Plan.Goldens, rev)
	if err != nil {
		return fmt.Errorf("--since: %w", err)
	}
	r.HoldSince(store)
	return nil
}

// sinceDir keeps results against a revision apart from those that decisions
// are made on.
func sinceDir(p *harness.Plan, rev string) string {
	return filepath.Join(filepath.Dir(p.Path), "out", "since-"+golden.FileName(rev))
}

// checkSince checks the whole plan against a revision and names the results.
func (c *call) checkSince(rev string) (results string, err error) {
	r, err := c.open()
	if err != nil {
		return "", err
	}
	defer r.Close()
	if err := c.goldensOf(r, rev); err != nil {
		return "", err
	}
	out := sinceDir(r.Plan, rev)
	if _, err := c.check(r, out); err != nil {
		return "", err
	}
	return filepath.Join(out, harness.ResultsName), nil
}
