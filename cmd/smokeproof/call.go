package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
	"smokeproof/harness/review"
)

// call is one invocation of a verb: its flags and where it prints.
type call struct {
	ctx            context.Context
	verb           *verb
	flags          *pflag.FlagSet
	argv           []string
	stdout, stderr io.Writer

	plan                   string
	faces, devices, sizes  []string
	glyphs                 string
	json, quiet, noProcess bool
	set                    bool // judge strikes as sets too
	bisect                 bool
	shard                  harness.Shard
	cache                  string  // folder; "" remembers nothing
	audit                  float64 // share
}

func (c *call) parse() error {
	err := c.flags.Parse(c.argv)
	if err != nil && !errors.Is(err, pflag.ErrHelp) {
		return fmt.Errorf("%w; see smokeproof %s --help", err, c.verb.name)
	}
	return err
}

func (c *call) help() string {
	return fmt.Sprintf("%s\n\nusage: smokeproof %s [flags]%s\n\n%s\nexample:\n  %s\n",
		c.verb.does, c.verb.name, c.verb.args, c.flagLines(), c.verb.example)
}

// flagLines is a line for each flag, in the order in which the verb has them.
func (c *call) flagLines() string {
	var sb strings.Builder
	c.flags.VisitAll(func(f *pflag.Flag) {
		value, does := pflag.UnquoteUsage(f)
		name := "--" + f.Name
		if f.Value.Type() != "bool" {
			name += " " + value
		}
		if !slices.Contains([]string{"", "false", "0", "[]"}, f.DefValue) {
			does += " (default " + f.DefValue + ")"
		}
		fmt.Fprintf(&sb, "  %-20s %s\n", name, does)
	})
	return sb.String()
}

// parseFlagsOnly is for verbs that take no arguments.
func (c *call) parseFlagsOnly() error {
	if err := c.parse(); err != nil {
		return err
	}
	if c.flags.NArg() > 0 {
		return fmt.Errorf("%q is not a flag; see smokeproof %s --help", c.flags.Arg(0), c.verb.name)
	}
	return nil
}

func (c *call) planFlag() {
	c.flags.StringVar(&c.plan, "plan", "", "plan `FILE`; without it "+harness.PlanName+" is searched upward")
}

// selectionFlags are the same for every verb that draws.
func (c *call) selectionFlags() {
	c.planFlag()
	c.flags.StringArrayVar(&c.faces, "face", nil, "only this `FACE` of the plan; may be repeated")
	c.flags.StringArrayVar(&c.devices, "device", nil, "only this `DEVICE` of the plan; may be repeated")
	c.flags.StringSliceVar(&c.sizes, "size", nil, "only these sizes in `PT`, separated by commas")
	c.glyphsFlag()
	c.flags.BoolVar(&c.noProcess, "no-process", false, "refuse renderers that are processes: for plans of strangers")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
}

func (c *call) glyphsFlag() {
	c.flags.StringVar(&c.glyphs, "glyphs", "", "only these `GLYPHS`: names, characters, a-z or U+0041-005A, separated by commas")
}

func (c *call) loadPlan() (*harness.Plan, error) {
	path := c.plan
	if path == "" {
		var err error
		if path, err = harness.FindPlan("."); err != nil {
			return nil, err
		}
	}
	return harness.LoadPlan(path)
}

func (c *call) open() (*harness.Run, error) {
	p, err := c.loadPlan()
	if err != nil {
		return nil, err
	}
	return c.openPlan(p)
}

// openPlan opens what the selection leaves of a plan; every glyph that it names must be there.
func (c *call) openPlan(p *harness.Plan) (*harness.Run, error) {
	r, err := c.openFiltered(p)
	if err != nil {
		return nil, err
	}
	unknown, err := r.Unknown(c.ctx)
	if err == nil && !unknown.All() {
		err = fmt.Errorf("no glyph answers to %s; correct --glyphs, a list such as H,a,eacute,U+0041-005A", unknown)
	}
	if err != nil {
		r.Close()
		return nil, err
	}
	return r, nil
}

// openFiltered opens what the selection leaves of a plan.
func (c *call) openFiltered(p *harness.Plan) (*harness.Run, error) {
	f := harness.Filter{Faces: c.faces, Devices: c.devices}
	var err error
	if f.Sizes, err = c.points(); err != nil {
		return nil, err
	}
	if f.Glyphs, err = harness.ParseSelection(c.glyphs); err != nil {
		return nil, fmt.Errorf("--glyphs: %w", err)
	}
	return harness.Open(c.ctx, p, harness.Options{Filter: f, NoProcess: c.noProcess, Cache: c.cache, Audit: c.audit, Shard: c.shard, Set: c.set})
}

// points are the sizes asked for, each once; nil where none are.
func (c *call) points() ([]glyph.Points, error) {
	var sizes []glyph.Points
	for _, s := range c.sizes {
		size, err := glyph.ParsePoints(s)
		if err != nil {
			return nil, fmt.Errorf("--size: %w", err)
		}
		if !slices.Contains(sizes, size) {
			sizes = append(sizes, size)
		}
	}
	return sizes, nil
}

// goWith refuses flags that go with something else than is at hand.
func (c *call) goWith(what string, flags ...string) error {
	for _, name := range flags {
		if c.flags.Changed(name) {
			return fmt.Errorf("--%s goes with %s", name, what)
		}
	}
	return nil
}

// say prints lines for a person. What names in them hold stays on its line.
func (c *call) say(format string, args ...any) {
	if c.quiet {
		return
	}
	for i, a := range args {
		switch a := a.(type) {
		case string:
			args[i] = review.Legible(a)
		case fmt.Stringer:
			args[i] = review.Legible(a.String())
		}
	}
	fmt.Fprintf(c.stdout, format+"\n", args...)
}

// warn prints a line on standard error, in the form of an error's.
func (c *call) warn(format string, args ...any) {
	fmt.Fprintf(c.stderr, "smokeproof %s: %s\n", c.verb.name, review.Legible(fmt.Sprintf(format, args...)))
}

// warnOf prints a line for each thing that a person should know; of many, the first.
func (c *call) warnOf(notes []string) {
	const most = 3
	for _, note := range notes[:min(most, len(notes))] {
		c.warn("%s", note)
	}
	if n := len(notes) - most; n > 0 {
		c.warn("and %d more such notes", n)
	}
}

// printJSON writes what a machine reads.
func (c *call) printJSON(v any) error {
	e := json.NewEncoder(c.stdout)
	e.SetIndent("", " ")
	return e.Encode(v)
}

// terminal says whether standard output is a person's terminal, and how wide.
func (c *call) terminal() (width int, color bool) {
	f, ok := c.stdout.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 80, false
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < 40 {
		width = 80
	}
	return width, os.Getenv("NO_COLOR") == ""
}

// person is who decides: --by, else git's user.
func person(by string) (string, error) {
	if by != "" {
		return by, nil
	}
	name, _ := exec.Command("git", "config", "user.name").Output()
	mail, _ := exec.Command("git", "config", "user.email").Output()
	who := strings.TrimSpace(string(name))
	if m := strings.TrimSpace(string(mail)); m != "" {
		who = strings.TrimSpace(who + " <" + m + ">")
	}
	if who == "" {
		return "", errors.New("nobody is named as approving; say --by \"NAME\"")
	}
	return who, nil
}
