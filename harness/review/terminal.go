package review

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"smokeproof/harness"
)

// tint is how a severity looks where colour is wanted; its word is always there.
var tint = map[string]string{"critical": "\x1b[1;35m", "major": "\x1b[1m", "minor": "", "trace": "\x1b[2m"}

// WriteTerminal prints a short table, worst first, and the art of the worst three.
// Lines are cut at width columns; 0 cuts none.
func WriteTerminal(w io.Writer, res *harness.Results, color bool, width int) error {
	b := bufio.NewWriter(w)
	gs := groups(res)
	const most = 20
	for _, g := range gs[:min(most, len(gs))] {
		c := g.worst
		line := fmt.Sprintf("%-8s %-14s %-12s %s: %s", c.Severity, c.Findings[0].Finding, plain(c.Glyph), where(g), plain(c.Findings[0].Text))
		if r := []rune(line); width > 0 && len(r) > width {
			line = string(r[:width-1]) + "…"
		}
		if color && tint[c.Severity] != "" {
			line = tint[c.Severity] + line + "\x1b[0m"
		}
		fmt.Fprintln(b, line)
	}
	if n := len(gs) - most; n > 0 {
		fmt.Fprintf(b, "and %d more; run smokeproof review\n", n)
	}
	for i, g := range gs[:min(3, len(gs))] {
		if i == 0 {
			fmt.Fprintf(b, "\n# stays   - lost   + gained\n")
		}
		fmt.Fprintf(b, "\n%s, %s\n", plain(g.worst.Glyph), strikeOf(g.worst))
		for _, row := range art(g.worst) {
			fmt.Fprintf(b, "  %s\n", row)
		}
	}
	fmt.Fprintf(b, "\n%s\n", counts(res))
	return b.Flush()
}

func where(g *group) string {
	return fmt.Sprintf("%s %s dpi at %s pt", plain(g.worst.Face), g.worst.DPI, strings.Join(g.sizes, ", "))
}

func counts(res *harness.Results) string {
	s := res.Summary
	line := fmt.Sprintf("%d glyphs in %d strikes: %d equal, %d changed, %d new, %d missing, %d undrawn; findings:",
		s.Glyphs, s.Strikes, s.Equal, s.Changed, s.New, s.Missing, s.Undrawn)
	for _, n := range severities {
		line += fmt.Sprintf(" %d %s", s.BySeverity[n], n)
	}
	if s.New > 0 {
		line += "\nnew glyphs have no golden: run smokeproof approve"
	}
	if s.Partial {
		line += "\nthe run is partial: it ended before all was drawn"
	}
	return line
}
