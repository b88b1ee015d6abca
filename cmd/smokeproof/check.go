package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"smokeproof/harness"
)

var checkVerb = verb{
	name: "check", does: "draw all, hold it against the goldens, write results: the verb for CI",
	example: "smokeproof check --junit out/smokeproof.xml",
	run:     runCheck,
}

func runCheck(c *call) (int, error) {
	c.selectionFlags()
	reports := c.reportFlags()
	shard := c.flags.String("shard", "", "only part `K/N` of the run, for gather to join; /N or array take K, or both, from a job array's environment")
	c.flags.BoolVar(&c.set, "set", false, "also judge the glyphs of a strike beside each other, and sizes of a device in turn, drawn and approved")
	since := c.flags.String("since", "", sinceUsage)
	noCache := c.flags.Bool("no-cache", false, "remember nothing and trust nothing remembered: draw all")
	audit := c.flags.Float64("audit", 0, "draw this `PERCENT` of what is remembered all the same, at random, and break off if it comes to something else")
	c.flags.BoolVar(&c.bisect, "bisect", false, "exit 125 instead of 2 and 3, for git bisect run")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	switch {
	case !(*audit >= 0 && *audit <= 100): // nor is NaN
		return 0, fmt.Errorf("--audit %g is out of range (0 to 100)", *audit)
	case *audit > 0 && *noCache:
		return 0, errors.New("--no-cache remembers nothing to audit; leave out one of the two")
	case !*noCache:
		c.cache, c.audit = harness.DefaultCache(), *audit/100
	}
	if *audit > 0 && c.cache == "" {
		return 0, errors.New("--audit: there is no cache to audit; set XDG_CACHE_HOME or HOME to a full path")
	}
	if *shard != "" {
		if c.set {
			return 0, errors.New("--set needs all sizes of a device in one run; leave out --shard")
		}
		var err error
		if c.shard, err = harness.ParseShard(*shard, os.Getenv); err != nil {
			return 0, fmt.Errorf("--shard: %w", err)
		}
	}
	if err := reports.prepare(); err != nil {
		return 0, err
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if *since != "" {
		if err := c.goldensOf(r, *since); err != nil {
			return 0, err
		}
	}
	c.placeResults(reports, r.Plan, *since)
	broken := filepath.Join(reports.out, "reproducers")
	r.KeepReproducers(broken)
	sum, err := c.check(r, reports.out)
	if n := r.Reproducers(); n > 0 {
		c.warn("%d glyphs broke this program; please report them with the folders in %s", n, broken)
	}
	if err != nil {
		return harness.ExitIncomplete, err
	}
	for _, why := range sum.Unread {
		c.warn("%s", why)
	}
	return c.report(reports, sum)
}

// placeResults names the folder of the results where --out does not: out beside the plan,
// and in it one for a revision, or for a shard.
func (c *call) placeResults(p *reports, plan *harness.Plan, since string) {
	beside := filepath.Join(filepath.Dir(plan.Path), "out")
	if p.out == "" {
		p.out = beside
		if since != "" {
			p.out = sinceDir(plan, since)
		}
		if c.shard != (harness.Shard{}) {
			p.out = filepath.Join(p.out, fmt.Sprintf("%d-of-%d", c.shard.Index, c.shard.Count))
		}
	}
	p.elsewhere = p.out != beside
}

// check runs and streams results to disk; a run that breaks off leaves results
// that say so.
func (c *call) check(r *harness.Run, out string) (*harness.Summary, error) {
	r.KeepChanges(out)
	sum, err := c.record(r, r.Header(version()), out, r.Check)
	if rev := r.Store.Revision(); err == nil && rev != "" && sum.Glyphs > 0 && sum.ApprovedSince+sum.New == sum.Glyphs {
		c.warn("%s has no goldens of these glyphs, so nothing was held against it; name a revision that has", rev)
	}
	return sum, err
}

// record streams to disk what a run of all strikes comes to.
func (c *call) record(r *harness.Run, h *harness.Header, out string,
	run func(context.Context, func(*harness.StrikeResult) error) (*harness.Summary, error)) (*harness.Summary, error) {
	w, err := harness.NewResultsWriter(out, h)
	if err != nil {
		return nil, fmt.Errorf("%w; name a folder with --out", err)
	}
	bar := c.progress(r)
	sum, runErr := run(c.ctx, func(s *harness.StrikeResult) error {
		bar.add(s)
		return w.Strike(s)
	})
	bar.finish()
	if err := w.Close(sum); err != nil {
		return nil, err
	}
	if c.ctx.Err() != nil {
		return sum, fmt.Errorf("interrupted after %d of %d strikes; %s holds those and is marked partial",
			sum.Strikes, len(r.Strikes()), filepath.Join(out, harness.ResultsName))
	}
	return sum, runErr
}
