package main

import (
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows a bar on a person's terminal and nothing anywhere else.
func (c *call) progress(strikes int) *progressbar.ProgressBar {
	f, ok := c.stderr.(*os.File)
	if c.quiet || c.json || !ok || !term.IsTerminal(int(f.Fd())) {
		return progressbar.DefaultSilent(int64(strikes))
	}
	return progressbar.NewOptions(strikes,
		progressbar.OptionSetWriter(f), progressbar.OptionSetDescription("strikes"),
		progressbar.OptionShowCount(), progressbar.OptionShowIts(), progressbar.OptionClearOnFinish(),
		progressbar.OptionEnableColorCodes(os.Getenv("NO_COLOR") == ""))
}
