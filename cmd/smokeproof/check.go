package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"smokeproof/harness"
	"smokeproof/harness/review"
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
	if *shard != "" {
		if c.set {
			return 0, errors.New("--set needs all sizes of a device in one run; leave out --shard")
		}
		var err error
		if c.shard, err = harness.ParseShard(*shard, os.Getenv); err != nil {
			return 0, fmt.Errorf("--shard: %w", err)
		}
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
	beside := filepath.Join(filepath.Dir(r.Plan.Path), "out")
	if reports.out == "" {
		reports.out = beside
		if *since != "" {
			reports.out = sinceDir(r.Plan, *since)
		}
		if c.shard != (harness.Shard{}) {
			reports.out = filepath.Join(reports.out, fmt.Sprintf("%d-of-%d", c.shard.Index, c.shard.Count))
		}
	}
	reports.elsewhere = reports.out != beside
	r.KeepReproducers(filepath.Join(reports.out, "reproducers"))
	sum, err := c.check(r, reports.out)
	if n := r.Reproducers(); n > 0 {
		c.warn("%d glyphs broke this program; please report them with the folders in %s", n, filepath.Join(reports.out, "reproducers"))
	}
	if err != nil {
		return harness.ExitIncomplete, err
	}
	for _, why := range sum.Unread {
		c.warn("%s", why)
	}
	return sum.Exit, c.report(reports)
}

// reports are what check and gather write beside the results.
type reports struct {
	out, junit, markdown, sarif string
	elsewhere                   bool // out is not where review looks by itself
}

func (c *call) reportFlags() *reports {
	var r reports
	c.flags.StringVar(&r.out, "out", "", "`DIR` for "+harness.ResultsName+"; without it out beside the plan")
	c.flags.BoolVar(&c.json, "json", false, "print findings and summary for a machine")
	c.flags.StringVar(&r.junit, "junit", "", "write JUnit XML to `FILE`")
	c.flags.StringVar(&r.markdown, "markdown", "", "write a summary for a merge request to `FILE`")
	c.flags.StringVar(&r.sarif, "sarif", "", "write SARIF 2.1.0 to `FILE`")
	return &r
}

// report writes the reports asked for and tells the person.
func (c *call) report(r *reports) error {
	res, err := harness.ReadFindings(filepath.Join(r.out, harness.ResultsName))
	if err != nil {
		return err
	}
	for _, p := range []report{{r.junit, review.WriteJUnit}, {r.markdown, review.WriteMarkdown}, {r.sarif, review.WriteSARIF}} {
		if err := p.write(res); err != nil {
			return err
		}
	}
	return c.tell(res, "run "+c.reviewing(r))
}

// reviewing is the command that shows the results.
func (c *call) reviewing(r *reports) string {
	command := "smokeproof review"
	if c.plan != "" {
		command += " --plan " + shellWord(c.plan)
	}
	if r.elsewhere {
		command += " --results " + shellWord(filepath.Join(r.out, harness.ResultsName))
	}
	return command
}

// shellWord is a path as a shell reads it whole.
func shellWord(path string) string {
	if !strings.ContainsAny(path, " \t\n'\"\\$`&|;<>()*?[]{}~#!") {
		return path
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}

// check runs and streams results to disk; a run that breaks off leaves results
// that say so.
func (c *call) check(r *harness.Run, out string) (*harness.Summary, error) {
	return c.record(r, r.Header(version()), out, r.Check)
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

// tell prints what was found; more says where the rest is shown.
func (c *call) tell(res *harness.Results, more string) error {
	if c.json {
		if res.Findings == nil {
			res.Findings = []harness.Finding{}
		}
		return c.printJSON(struct {
			Version  int               `json:"version"`
			Findings []harness.Finding `json:"findings"`
			Summary  harness.Summary   `json:"summary"`
		}{res.Version, res.Findings, res.Summary})
	}
	if c.quiet {
		return nil
	}
	width, color := c.terminal()
	return review.WriteTerminal(c.stdout, res, more, color, width)
}

type report struct {
	path  string
	print func(io.Writer, *harness.Results) error
}

// write puts a report in its place whole or not at all.
func (p report) write(res *harness.Results) error {
	if p.path == "" {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(p.path), 0o777); err != nil {
		return err
	}
	return writeTo(p.path, func(w io.Writer) error { return p.print(w, res) })
}
