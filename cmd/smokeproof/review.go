package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var reviewVerb = verb{
	name: "review", does: "write the bundle that people read from the last results, or serve it",
	example: "smokeproof review && open out/review/index.html\n  smokeproof review --serve --watch",
	run:     runReview,
}

// reviewFlags say what is made of the results.
type reviewFlags struct {
	results, out string
	last         bool // results are where check leaves them
	since        string
	serve, watch bool
	port         int
	proof        bool
	paper        string
	by           string
}

func runReview(c *call) (int, error) {
	var f reviewFlags
	c.planFlag()
	c.flags.StringVar(&f.results, "results", "", "results `FILE`; without it out/"+harness.ResultsName+" beside the plan")
	c.flags.StringVar(&f.since, "since", "", sinceUsage+"; draws all anew")
	c.flags.StringVar(&f.out, "out", "", "`DIR` of the bundle; without it review beside the results")
	c.flags.BoolVar(&f.proof, "proof", false, "write sheets to print and lay under a loupe, in proof beside the bundle")
	c.flags.StringVar(&f.paper, "paper", "a4", "with --proof: the sheet's `SIZE`, a4, letter or WIDTHxHEIGHT in mm")
	c.flags.BoolVar(&f.serve, "serve", false, "show the page on this machine alone and write each decision at once")
	c.flags.BoolVar(&f.watch, "watch", false, "with --serve: draw again when a font, the plan or a renderer is saved")
	c.flags.IntVar(&f.port, "port", 0, "with --serve: the `PORT`; 0 takes a free one")
	c.flags.StringVar(&f.by, "by", "", "with --serve: `NAME` of the person who decides; without it git's user")
	c.flags.BoolVar(&c.noProcess, "no-process", false, "refuse renderers that are processes: for plans of strangers")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	if f.serve && f.proof || !f.proof && c.flags.Changed("paper") {
		return 0, errors.New("--proof goes without --serve, and --paper with --proof")
	}
	if !f.serve && (f.watch || c.flags.Changed("port") || f.by != "") {
		return 0, errors.New("--watch, --port and --by need --serve")
	}
	if f.since != "" {
		if f.results != "" || f.serve {
			return 0, errors.New("--since goes neither with --results nor with --serve; say one")
		}
		var err error
		if f.results, err = c.checkSince(f.since); err != nil {
			return 0, err
		}
	}
	p, planErr := c.loadPlan()
	if planErr != nil && (f.results == "" || f.serve) {
		return 0, planErr
	}
	f.last = f.results == ""
	if f.last {
		f.results = filepath.Join(filepath.Dir(p.Path), "out", harness.ResultsName)
	}
	read := harness.ReadResults
	if !f.serve && !f.proof {
		read = harness.OpenResults
	}
	res, err := read(f.results)
	if err != nil && !(f.serve && errors.Is(err, os.ErrNotExist)) {
		return 0, err
	}
	if f.last && res != nil && filepath.Base(res.Plan) != filepath.Base(p.Path) {
		return 0, fmt.Errorf("%s is of %s; run smokeproof check --plan %s first, with an --out of its own where two plans lie in one folder",
			f.results, filepath.Base(res.Plan), shellWord(p.Path))
	}
	if res != nil && !res.Decidable() {
		if p = nil; f.serve {
			return 0, fmt.Errorf("%s: nothing is approved that a decision could be about; leave out --serve", f.results)
		}
	}
	if f.serve {
		return c.serve(p, res, &f)
	}
	return c.bundle(p, res, &f)
}

// bundle writes the page to disk. Results from elsewhere are shown without a plan,
// their ramps with gaps.
func (c *call) bundle(p *harness.Plan, res *harness.Results, f *reviewFlags) (int, error) {
	var o review.Options
	if p != nil {
		var err error
		if o.Around, err = p.Surround(c.ctx, res); err != nil {
			return 0, err
		}
		if f.last {
			c.warnOfPast(p.Refonted(res, harness.DefaultCache()), o.Around.Moved, f.results)
		}
	}
	out := f.out
	if out == "" {
		out = filepath.Join(filepath.Dir(f.results), "review")
	}
	if f.proof {
		return c.proof(res, o.Around, filepath.Join(out, "proof"), f.paper)
	}
	if err := review.Write(c.ctx, out, res, o); err != nil {
		return harness.ExitIncomplete, err
	}
	c.say("open %s", filepath.Join(out, "index.html"))
	return harness.ExitOK, nil
}

// warnOfPast says what is no longer as the last run found it.
func (c *call) warnOfPast(fonts []string, goldens int, results string) {
	if len(fonts) > 0 {
		c.warn("%s is of another %s than is there now; run smokeproof check", results, strings.Join(fonts, ", "))
	}
	if goldens > 0 {
		c.warn("%s in %s had another golden than now; run smokeproof check", review.Counted(goldens, "change"), results)
	}
}

func (c *call) proof(res *harness.Results, around *harness.Surround, dir, paper string) (int, error) {
	p, err := review.ParsePaper(paper)
	if err != nil {
		return 0, fmt.Errorf("--paper: %w", err)
	}
	if !res.Decidable() {
		return 0, errors.New("proofs are of what check found: they set words from the goldens")
	}
	if around == nil {
		return 0, errors.New("proofs set words from the goldens; name the plan with --plan")
	}
	made, err := review.WriteProofs(c.ctx, dir, res, around, p)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	if made.Sheets > 0 {
		c.say("%s of %s in %s; sheets.txt says which is which; print at 100%%, unscaled", review.Counted(made.Sheets, "sheet"), review.Counted(made.Strikes, "strike"), dir)
	} else {
		c.say("no sheets: a proof shows what changed on bilevel devices, and nothing did")
	}
	c.sayList("grey: a sheet of one bit a pixel cannot hold it", made.Grey)
	return harness.ExitOK, nil
}

// lookEvery is how often --watch looks at the files: often enough that what is
// saved is seen and drawn within a second.
const lookEvery = 100 * time.Millisecond

// serve shows the page until the run is broken off.
func (c *call) serve(p *harness.Plan, res *harness.Results, f *reviewFlags) (int, error) {
	by, err := person(f.by)
	if err != nil {
		by = "" // the page asks for the name
	}
	fresh := res == nil
	if fresh {
		res = &harness.Results{Header: harness.Header{Version: harness.ResultsVersion, Plan: p.Path, Gate: p.Gate.String(), DistanceMM: p.DistanceMM}, Summary: *harness.NewSummary()}
	}
	desk := harness.NewDesk(p, res, harness.Options{NoProcess: c.noProcess, Cache: harness.DefaultCache()})
	if fresh || f.watch {
		if err := desk.Redraw(c.ctx, nil); err != nil {
			return 0, err
		}
	} else if f.last {
		c.warnOfPast(p.Refonted(res, harness.DefaultCache()), 0, f.results)
	}
	s, err := review.Listen(desk, by, f.port)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	c.say("open %s\nend it with Ctrl-C", s.URL())
	ctx, stop := context.WithCancel(c.ctx)
	var watching sync.WaitGroup
	if f.watch {
		watching.Go(func() { desk.Watch(ctx, lookEvery, s.Tell) })
	}
	err = s.Run(ctx)
	stop()
	watching.Wait()
	if err != nil {
		return harness.ExitIncomplete, err
	}
	return harness.ExitOK, nil
}
