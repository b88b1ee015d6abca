// Smokeproof holds hinted type against approved bitmaps. See README.md.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"smokeproof/harness"
)

// verb is one thing the command does. A verb parses its own flags and returns
// an exit status; an error says what kept it from its work.
type verb struct {
	name, args, does, example string
	run                       func(*call) (int, error)
}

var verbs = []verb{lookVerb, initVerb, planVerb, drawVerb, approveVerb, checkVerb, gatherVerb, reviewVerb, compareVerb, importVerb, exportVerb, retouchVerb, verifyVerb}

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(50) // garbage is at most half of what is held, for a hundredth of the work
	}
	os.Exit(command(os.Args[1:], os.Stdout, os.Stderr))
}

// command runs one verb and turns its outcome into an exit status.
func command(args []string, stdout, stderr io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends us where we stand
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" || args[0] == "-h" {
		fmt.Fprint(stdout, overview())
		if len(args) == 0 {
			return harness.ExitUsage
		}
		return harness.ExitOK
	}
	if args[0] == "--version" || args[0] == "version" {
		fmt.Fprint(stdout, buildInfo())
		return harness.ExitOK
	}
	for i := range verbs {
		if verbs[i].name == args[0] {
			return runVerb(ctx, &verbs[i], args[1:], stdout, stderr)
		}
	}
	fmt.Fprintf(stderr, "smokeproof: there is no verb %q; see smokeproof --help\n", args[0])
	return harness.ExitUsage
}

func runVerb(ctx context.Context, v *verb, args []string, stdout, stderr io.Writer) int {
	c := &call{ctx: ctx, verb: v, stdout: stdout, stderr: stderr, argv: args}
	c.flags = pflag.NewFlagSet(v.name, pflag.ContinueOnError)
	c.flags.SetOutput(io.Discard)
	c.flags.SortFlags = false
	status, err := v.run(c)
	if errors.Is(err, pflag.ErrHelp) {
		fmt.Fprint(stdout, c.help())
		return harness.ExitOK
	}
	if err != nil {
		if ctx.Err() != nil && errors.Is(err, context.Canceled) { // of a verb that has no more to say
			err = errors.New("interrupted; run it again")
		}
		for _, line := range errorLines(err) {
			c.warn("%s", line)
		}
		status = statusOf(ctx, status)
	}
	if c.bisect && status >= harness.ExitUsage {
		return bisectSkip
	}
	return status
}

// bisectSkip tells git bisect run that a commit cannot be judged.
const bisectSkip = 125

// statusOf keeps the status that the verb chose; without one, a broken run is
// incomplete and everything else is input that cannot be used.
func statusOf(ctx context.Context, chosen int) int {
	switch {
	case ctx.Err() != nil:
		return harness.ExitIncomplete
	case chosen != harness.ExitOK:
		return chosen
	default:
		return harness.ExitUsage
	}
}

// errorLines gives each fault of a plan a line of its own and keeps every other
// error on one.
func errorLines(err error) []string {
	var all harness.PlanErrors
	if !errors.As(err, &all) {
		return []string{strings.ReplaceAll(err.Error(), "\n", "; ")}
	}
	var lines []string
	for _, e := range all {
		lines = append(lines, strings.ReplaceAll(e.Error(), "\n", "; "))
	}
	return lines
}

func overview() string {
	var sb strings.Builder
	sb.WriteString("smokeproof holds hinted type against approved bitmaps.\n\nusage: smokeproof VERB [flags]\n\n")
	for _, v := range verbs {
		fmt.Fprintf(&sb, "  %-9s %s\n", v.name, v.does)
	}
	sb.WriteString("\nsmokeproof VERB --help shows a verb's flags and an example.\n" +
		"exit: 0 all well, 1 findings at the gate or glyphs nobody approved, 2 wrong usage or input, 3 the run is incomplete\n")
	return sb.String()
}

// version names the program in one line, with the revision that it was built from.
func version() string {
	v := "smokeproof 0.1"
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				v += " " + s.Value[:min(12, len(s.Value))]
			case s.Key == "vcs.modified" && s.Value == "true":
				v += " with changes"
			}
		}
		v += " " + info.GoVersion
	}
	return v
}

// buildInfo is the version, then a line for each module that was built in.
func buildInfo() string {
	var sb strings.Builder
	fmt.Fprintln(&sb, version())
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, m := range info.Deps {
			fmt.Fprintf(&sb, "  %s %s\n", m.Path, m.Version)
		}
	}
	return sb.String()
}
