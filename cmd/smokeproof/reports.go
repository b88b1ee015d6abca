package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

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

// prepare sees that there is room for the reports, before a run that may take long, and takes those of the run
// before away: one that ends early must leave none that says all is well.
func (r *reports) prepare() error {
	for _, path := range []string{r.junit, r.markdown, r.sarif} {
		if path == "" {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return fmt.Errorf("report %s: %w; name another file", path, err)
		}
		if err := noFolder(path); err != nil {
			return err
		}
		if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
			continue
		}
		if err := os.Remove(path); err != nil {
			return fmt.Errorf("report %s: %w; name another file", path, err)
		}
	}
	return nil
}

// report writes the reports asked for, tells the person, and gives the run's exit status: without its reports
// it is incomplete.
func (c *call) report(r *reports, sum *harness.Summary) (int, error) {
	if err := c.writeReports(r); err != nil {
		return harness.ExitIncomplete, err
	}
	return sum.Exit, nil
}

func (c *call) writeReports(r *reports) error {
	g, err := review.ReadGist(filepath.Join(r.out, harness.ResultsName))
	if err != nil {
		return err
	}
	for _, p := range []report{
		{r.junit, func(w io.Writer) error { return review.WriteJUnit(w, g.Results) }},
		{r.markdown, func(w io.Writer) error { return review.WriteMarkdown(w, g) }},
		{r.sarif, func(w io.Writer) error { return review.WriteSARIF(w, fromHere(g)) }},
	} {
		if err := p.write(); err != nil {
			return err
		}
	}
	return c.tell(g, "run "+c.reviewing(r))
}

// fromHere gives results whose font files are named from the working folder, as what reads a report in CI
// knows them, and not from the plan's.
func fromHere(g *review.Gist) *review.Gist {
	out, res := *g, *g.Results
	out.Results, res.Faces = &res, slices.Clone(res.Faces)
	here, err := os.Getwd()
	if err != nil {
		return &out
	}
	for i := range out.Faces {
		f := &out.Faces[i].File
		if !filepath.IsAbs(*f) {
			*f = filepath.Join(filepath.Dir(res.Plan), filepath.FromSlash(*f))
		}
		if rel, err := filepath.Rel(here, *f); err == nil && filepath.IsLocal(rel) {
			*f = rel
		}
	}
	return &out
}

// reviewing is the command that shows the results.
func (c *call) reviewing(r *reports) string {
	command := c.command("review")
	if r.elsewhere {
		command += " --results " + shellWord(filepath.Join(r.out, harness.ResultsName))
	}
	return command
}

// command is how another verb is run on the same plan.
func (c *call) command(verb string) string {
	if c.plan == "" {
		return "smokeproof " + verb
	}
	return "smokeproof " + verb + " --plan " + shellWord(c.plan)
}

// shellWord is a path as a shell reads it whole.
func shellWord(path string) string {
	if !strings.ContainsAny(path, " \t\n'\"\\$`&|;<>()*?[]{}~#!") {
		return path
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}

type report struct {
	path  string
	print func(io.Writer) error
}

// write puts a report in its place whole or not at all.
func (p report) write() error {
	if p.path == "" {
		return nil
	}
	return writeTo(p.path, p.print)
}

// show writes the page of what was found with nothing approved, and tells the person. around gives what stands
// around the changes.
func (c *call) show(res *harness.Results, out string, around func(context.Context, *harness.Results) (*harness.Surround, error)) error {
	if !c.json {
		var o review.Options
		var err error
		if o.Around, err = around(c.ctx, res); err != nil {
			return err
		}
		page := filepath.Join(out, "review")
		if err := review.Write(c.ctx, page, res, o); err != nil {
			return err
		}
		defer c.say("open %s", filepath.Join(page, "index.html"))
	}
	return c.tell(review.GistOf(res), "see the page")
}

// tell prints what was found; more says where the rest is shown.
func (c *call) tell(g *review.Gist, more string) error {
	if c.json {
		return c.printFindings(g.Results)
	}
	if c.quiet {
		return nil
	}
	width, color := c.terminal()
	return review.WriteTerminal(c.stdout, g, more, color, width)
}

// printFindings prints findings and summary for a machine, one by one, as printJSON would.
func (c *call) printFindings(res *harness.Results) error {
	w := bufio.NewWriter(c.stdout)
	put := func(before string, v any, depth int) error {
		data, err := json.MarshalIndent(v, strings.Repeat(" ", depth), " ")
		if err == nil {
			_, err = fmt.Fprintf(w, "%s%s", before, data)
		}
		return err
	}
	fmt.Fprintf(w, "{\n \"version\": %d,\n \"findings\": [", res.Version)
	before, after := "\n  ", "]"
	err := res.EachFinding(func(f *harness.Finding) error {
		err := put(before, f, 2)
		before, after = ",\n  ", "\n ]"
		return err
	})
	if err != nil {
		return err
	}
	if err := put(after+",\n \"summary\": ", res.Summary, 1); err != nil {
		return err
	}
	fmt.Fprint(w, "\n}\n")
	return w.Flush()
}
