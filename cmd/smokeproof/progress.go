package main

import (
	"fmt"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"smokeproof/harness"
)

// progress shows a person how far a run is: glyphs done, rate, time left and
// findings so far.
type progress struct {
	bar      *progressbar.ProgressBar // nil where nobody watches
	findings int
}

// progress watches a run on a person's terminal and does nothing anywhere else.
func (c *call) progress(strikes []harness.StrikeJob) *progress {
	f, ok := c.stderr.(*os.File)
	if c.quiet || c.json || !ok || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	glyphs := 0
	for i := range strikes {
		glyphs += strikes[i].Count()
	}
	return &progress{bar: progressbar.NewOptions(glyphs,
		progressbar.OptionSetWriter(f), progressbar.OptionSetDescription("no findings yet"),
		progressbar.OptionShowCount(), progressbar.OptionShowIts(), progressbar.OptionSetItsString("glyphs"),
		progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionSetPredictTime(true),
		progressbar.OptionClearOnFinish(), progressbar.OptionEnableColorCodes(os.Getenv("NO_COLOR") == ""))}
}

func (p *progress) add(s *harness.StrikeResult) {
	if p.bar == nil {
		return
	}
	for i := range s.Changes {
		p.findings += len(s.Changes[i].Findings)
	}
	if p.findings > 0 {
		p.bar.Describe(fmt.Sprintf("%d findings", p.findings))
	}
	_ = p.bar.Add(s.Glyphs)
}

func (p *progress) finish() {
	if p.bar != nil {
		_ = p.bar.Exit()
	}
}
