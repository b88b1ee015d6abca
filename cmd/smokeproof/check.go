package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var checkVerb = verb{
	name: "check", does: "draw all, hold it against the goldens, write results: the verb for CI",
	example: "smokeproof check --junit out/smokeproof.xml",
	run:     runCheck,
}

func runCheck(c *call) (int, error) {
	var out, junit, markdown, sarif string
	c.selectionFlags()
	c.flags.StringVar(&out, "out", "", "`DIR` for "+harness.ResultsName+"; without it out beside the plan")
	c.flags.BoolVar(&c.json, "json", false, "print findings and summary for a machine")
	c.flags.StringVar(&junit, "junit", "", "write JUnit XML to `FILE`")
	c.flags.StringVar(&markdown, "markdown", "", "write a summary for a merge request to `FILE`")
	c.flags.StringVar(&sarif, "sarif", "", "write SARIF 2.1.0 to `FILE`")
	c.flags.BoolVar(&c.bisect, "bisect", false, "exit 125 instead of 2 and 3, for git bisect run")
	noCache := c.flags.Bool("no-cache", false, "remember nothing and trust nothing remembered: draw all")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	if !*noCache {
		c.cache = harness.DefaultCache()
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if out == "" {
		out = filepath.Join(filepath.Dir(r.Plan.Path), "out")
	}
	sum, err := c.check(r, out)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	res, err := harness.ReadResults(filepath.Join(out, harness.ResultsName))
	if err != nil {
		return harness.ExitIncomplete, err
	}
	reports := []report{{junit, review.WriteJUnit}, {markdown, review.WriteMarkdown}, {sarif, review.WriteSARIF}}
	for _, p := range reports {
		if err := p.write(res); err != nil {
			return harness.ExitIncomplete, err
		}
	}
	return sum.Exit, c.tell(res)
}

// check runs and streams results to disk; a run that breaks off leaves results
// that say so.
func (c *call) check(r *harness.Run, out string) (*harness.Summary, error) {
	w, err := harness.NewResultsWriter(out, r.Header(version()))
	if err != nil {
		return nil, err
	}
	bar := c.progress(len(r.Strikes()))
	sum, runErr := r.Check(c.ctx, func(s *harness.StrikeResult) error {
		bar.Add(1)
		return w.Strike(s)
	})
	bar.Finish()
	if err := w.Close(sum); err != nil {
		return nil, err
	}
	return sum, runErr
}

func (c *call) tell(res *harness.Results) error {
	if c.json {
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
	return review.WriteTerminal(c.stdout, res, color, width)
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
	return writeFile(p.path, func(w io.Writer) error { return p.print(w, res) })
}

func writeFile(path string, print func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".smokeproof-*")
	if err != nil {
		return fmt.Errorf("cannot write beside %s: %w", path, err)
	}
	defer os.Remove(f.Name())
	if err := print(f); err != nil {
		f.Close()
		return fmt.Errorf("%s: %w", path, err)
	}
	f.Chmod(0o644)
	if err := f.Sync(); err != nil {
		f.Close()
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.Rename(f.Name(), path)
}
