package main

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"time"

	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/review"
)

var approveVerb = verb{
	name: "approve", does: "store candidates as goldens: all that are new, those named, or a decisions file",
	example: "smokeproof approve --by \"Ada Marsh\" --why \"first set, seen under the loupe\"",
	run:     runApprove,
}

func runApprove(c *call) (int, error) {
	f := c.approveFlags()
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	o, err := f.options(c.flags.Changed("glyphs"))
	if err != nil {
		return 0, err
	}
	if f.until != "" && f.until < time.Now().Format(time.DateOnly) {
		c.warn("--until %s is over: check goes on failing for these", f.until)
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	a, err := r.Approve(c.ctx, *o)
	c.warnOf(r.Remarks())
	if a != nil {
		c.sayApproved(o, a)
	}
	switch {
	case c.ctx.Err() != nil:
		return harness.ExitIncomplete, errors.New("interrupted; what was approved until then stands, run it again for the rest")
	case err != nil:
		return harness.ExitIncomplete, err
	case len(a.Undrawn) > 0:
		return harness.ExitIncomplete, nil
	case len(a.Refused)+len(a.Imported)+len(a.Stale) > 0:
		return harness.ExitFindings, nil
	}
	return harness.ExitOK, nil
}

// approveFlags are the flags of approve as they were given.
type approveFlags struct {
	by, why, also, until, decisions string
	changed, stored, gone, renamed  bool
	reject, later                   bool
}

func (c *call) approveFlags() *approveFlags {
	var f approveFlags
	c.selectionFlags()
	c.flags.StringVar(&f.by, "by", "", "`NAME` of the person who approves; without it git's user")
	c.flags.StringVar(&f.why, "why", "", "the `REASON`, in a few words (needed)")
	c.flags.BoolVar(&f.changed, "changed", false, "approve what differs from its golden too, not only what is new; --glyphs implies it")
	c.flags.StringVar(&f.also, "also", "", "also candidates with `critical` findings")
	c.flags.BoolVar(&f.stored, "stored", false, "approve bitmaps as they stand in the golden folder: imported, or changed by hand")
	c.flags.BoolVar(&f.gone, "gone", false, "drop the goldens of glyphs that the face no longer has")
	c.flags.BoolVar(&f.renamed, "renamed", false, "carry goldens over to glyphs that have another name now, found by character, else by index")
	c.flags.BoolVar(&f.reject, "reject", false, "record that the candidates named by --glyphs are wrong; check goes on failing")
	c.flags.BoolVar(&f.later, "put-off", false, "put the candidates named by --glyphs off; check passes them until --until")
	c.flags.StringVar(&f.until, "until", "", "last `DAY` for --put-off and --reject, 2027-01-31; check fails again after it")
	c.flags.StringVar(&f.decisions, "decisions", "", "carry out a decisions `FILE` that review exported")
	return &f
}

// options are what the flags ask for; named says that --glyphs was given.
func (f *approveFlags) options(named bool) (*harness.ApproveOptions, error) {
	o := &harness.ApproveOptions{Why: f.why, Changed: f.changed || named, Stored: f.stored, Gone: f.gone, Renamed: f.renamed, Critical: f.also == "critical"}
	if f.also != "" && !o.Critical {
		return nil, fmt.Errorf("--also %q is unknown; the only word is critical", f.also)
	}
	if err := oneOf(map[string]bool{"--stored": f.stored, "--gone": f.gone, "--renamed": f.renamed, "--reject": f.reject, "--put-off": f.later, "--decisions": f.decisions != ""}); err != nil {
		return nil, err
	}
	switch {
	case (f.reject || f.later) && !named:
		return nil, errors.New("--reject and --put-off decide on named glyphs; say --glyphs, all for every one that --face, --device and --size leave")
	case f.until != "" && !f.reject && !f.later:
		return nil, errors.New("--until goes with --put-off or --reject; say one")
	case f.reject:
		o.Verdict = golden.Reject
	case f.later:
		o.Verdict = golden.Later
	}
	var err error
	if f.until != "" {
		if o.Until, err = time.Parse(time.DateOnly, f.until); err != nil {
			return nil, fmt.Errorf("--until %q is no day; write 2027-01-31", f.until)
		}
	}
	by := f.by
	switch {
	case f.decisions != "":
		decided, list, err := readDecisions(f.decisions)
		if err != nil {
			return nil, err
		}
		o.Decisions, by = list, cmp.Or(by, decided)
	case f.why == "":
		return nil, errors.New("no reason given; say --why \"…\"")
	}
	o.By, err = person(by)
	return o, err
}

// oneOf finds flags that shut each other out.
func oneOf(flags map[string]bool) error {
	var set []string
	for _, name := range slices.Sorted(maps.Keys(flags)) {
		if flags[name] {
			set = append(set, name)
		}
	}
	if len(set) > 1 {
		return fmt.Errorf("%s do not go together; say one", strings.Join(set, " and "))
	}
	return nil
}

func (c *call) sayApproved(o *harness.ApproveOptions, a *harness.Approved) {
	if o.Renamed {
		c.say("%d goldens carried over to glyphs of new names; check holds these against them", a.Renamed)
		return
	}
	c.say("%d approved, %d rejected, %d put off; %d were approved already", a.Approved, a.Rejected, a.Later, a.Equal)
	if a.AtFault > 0 {
		c.say("%d of the new at fault by their own outlines, %d critically: %s names and draws them", a.AtFault, a.Grave, c.command("look"))
	}
	if a.Left > 0 {
		c.say("%d differ from their goldens and were left alone; --changed approves them, --glyphs those named", a.Left)
	}
	if a.Gone > 0 {
		c.say("%d goldens dropped, their glyphs are gone", a.Gone)
	}
	c.sayList("refused, a critical finding; look at it, then name it with --also critical", a.Refused)
	c.sayList("the golden folder holds another bitmap that nobody approved; --stored approves that one, --glyphs the candidate", a.Imported)
	c.sayList("check and review again", a.Stale)
	c.sayList("", a.Undrawn)
}

// sayList prints no more lines than a person reads, and behind each what it
// is, if they do not say so themselves.
func (c *call) sayList(what string, list []string) {
	const most = 10
	if what != "" {
		what = ": " + what
	}
	for _, s := range list[:min(most, len(list))] {
		c.say("  %s%s", s, what)
	}
	if n := len(list) - most; n > 0 {
		c.say("  and %d more%s", n, what)
	}
}

// readDecisions reads a decisions file, and who made them.
func readDecisions(path string) (by string, list []harness.Decision, err error) {
	f, err := os.Open(path)
	if err != nil {
		return "", nil, fmt.Errorf("decisions: %w", err)
	}
	defer f.Close()
	d, err := review.ReadDecisions(f)
	if err != nil {
		return "", nil, fmt.Errorf("%s: %w", path, err)
	}
	list = []harness.Decision{} // not nil: they are all that is decided
	for _, e := range d.Decisions {
		h, err := e.Harness()
		if err != nil {
			return "", nil, fmt.Errorf("%s: %w", path, err)
		}
		list = append(list, h)
	}
	return d.By, list, nil
}
