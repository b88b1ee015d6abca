package main

import (
	"fmt"
	"os"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"smokeproof/harness"
)

// progress shows a person how far a run is: glyphs done, rate, time left and
// findings so far. One goroutine looks after the run's glyphs until finish ends it.
type progress struct {
	bar  *progressbar.ProgressBar // nil where nobody watches
	run  *harness.Run
	stop chan struct{}
	over sync.WaitGroup

	mu       sync.Mutex
	finished int // glyphs of the strikes that are done, less those that were drawn for them
}

const progressEvery = 200 * time.Millisecond

// progress watches a run on a person's terminal and does nothing anywhere else.
func (c *call) progress(r *harness.Run) *progress {
	f, ok := c.stderr.(*os.File)
	if c.quiet || c.json || !ok || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	glyphs := 0
	for _, s := range r.Strikes() {
		glyphs += s.Count()
	}
	p := &progress{run: r, stop: make(chan struct{}), bar: progressbar.NewOptions(glyphs,
		progressbar.OptionSetWriter(f), progressbar.OptionSetDescription("no findings yet"),
		progressbar.OptionShowCount(), progressbar.OptionShowIts(), progressbar.OptionSetItsString("glyphs"),
		progressbar.OptionSetPredictTime(true), progressbar.OptionClearOnFinish(),
		progressbar.OptionEnableColorCodes(os.Getenv("NO_COLOR") == ""))}
	p.show()
	p.over.Go(p.watch)
	return p
}

func (p *progress) watch() {
	tick := time.NewTicker(progressEvery)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
			p.show()
		case <-p.stop:
			return
		}
	}
}

// show draws the bar, counting the glyphs of unfinished strikes too.
func (p *progress) show() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if n := p.run.Found(); n > 0 {
		p.bar.Describe(fmt.Sprintf("%d findings", n))
	}
	_ = p.bar.Set(min(p.finished+p.run.Drawn(), p.bar.GetMax()))
}

// add takes a strike that is done.
func (p *progress) add(s *harness.StrikeResult) {
	if p.bar == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.finished += s.Glyphs - s.Drawn()
}

// finish takes the bar off the terminal.
func (p *progress) finish() {
	if p.bar != nil {
		close(p.stop)
		p.over.Wait()
		_ = p.bar.Clear()
	}
}
