package review

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"smokeproof/harness"
)

// tint is how a severity looks where colour is wanted; its word is always there.
var tint = map[string]string{"critical": "\x1b[1;35m", "major": "\x1b[1m", "minor": "", "trace": "\x1b[2m"}

// WriteTerminal prints a short table, worst first, and the art of the worst three.
// Lines are cut at width columns; 0 cuts none.
func WriteTerminal(w io.Writer, res *harness.Results, color bool, width int) error {
	b := bufio.NewWriter(w)
	found := causesFound(res)
	const most = 20
	for _, g := range found[:min(most, len(found))] {
		c := g.worst()
		line := fmt.Sprintf("%-8s %-14s %-12s %s: %s", c.Severity, c.Findings[0].Finding, which(g), where(g), plain(c.Findings[0].Text))
		if r := []rune(line); width > 0 && len(r) > width {
			line = string(r[:width-1]) + "…"
		}
		if color && tint[c.Severity] != "" {
			line = tint[c.Severity] + line + "\x1b[0m"
		}
		fmt.Fprintln(b, line)
	}
	if n := len(found) - most; n > 0 {
		fmt.Fprintf(b, "and %d more; %s\n", n, moreIn(res))
	}
	pictured := drawn(found)
	for i, g := range pictured[:min(3, len(pictured))] {
		if i == 0 {
			fmt.Fprintf(b, "\n# stays   - lost   + gained\n")
		}
		fmt.Fprintf(b, "\n%s, %s\n", plain(g.worst().Glyph), strikeOf(g.worst()))
		for _, row := range art(g.worst()) {
			fmt.Fprintf(b, "  %s\n", row)
		}
	}
	set := setFindings(res)
	for i := range set[:min(most, len(set))] {
		if i == 0 {
			fmt.Fprint(b, "\nbeside each other and from size to size:\n")
		}
		line := setLine(&set[i])
		if r := []rune(line); width > 0 && len(r) > width {
			line = string(r[:width-1]) + "…"
		}
		fmt.Fprintln(b, line)
	}
	if n := len(set) - most; n > 0 {
		fmt.Fprintf(b, "and %d more; see %s\n", n, harness.ResultsName)
	}
	said := decided(res)
	for i, line := range said[:min(most, len(said))] {
		if i == 0 {
			fmt.Fprint(b, "\ndecided before:\n")
		}
		fmt.Fprintln(b, line)
	}
	if n := len(said) - most; n > 0 {
		fmt.Fprintf(b, "and %d more; see %s\n", n, harness.ResultsName)
	}
	fmt.Fprintf(b, "\n%s\n", counts(res))
	return b.Flush()
}

// causesFound leaves out what is only new: there is nothing to tell of it.
func causesFound(res *harness.Results) []*cause {
	return slices.DeleteFunc(causes(res), func(c *cause) bool { return len(c.worst().Findings) == 0 })
}

// drawn leaves out causes that have no picture.
func drawn(list []*cause) []*cause {
	return slices.DeleteFunc(slices.Clone(list), func(c *cause) bool { return c.worst().Status == "undrawn" })
}

// which names the glyph of a cause, or counts those of its strike.
func which(c *cause) string {
	if c.strike {
		return fmt.Sprintf("%d glyphs", len(c.members))
	}
	return plain(c.worst().Glyph)
}

func where(c *cause) string {
	w := c.worst()
	sizes := []string{w.Size}
	if !c.strike {
		sizes = nil
		for _, m := range c.members {
			sizes = append(sizes, m.Size)
		}
	}
	return fmt.Sprintf("%s %s dpi at %s pt", plain(w.Face), w.DPI, strings.Join(sizes, ", "))
}

func counts(res *harness.Results) string {
	s := res.Summary
	line := fmt.Sprintf("%d glyphs in %d strikes: %d equal, %d changed, %d new, %d missing, %d undrawn; findings:",
		s.Glyphs, s.Strikes, s.Equal, s.Changed, s.New, s.Missing, s.Undrawn)
	if res.Looked {
		line = fmt.Sprintf("%d glyphs in %d strikes, %d drawings with faults by their own outlines; findings:", s.Glyphs, s.Strikes, len(res.Changes))
	}
	for _, n := range severities {
		line += fmt.Sprintf(" %d %s", s.BySeverity[n], n)
	}
	if s.ApprovedSince > 0 {
		line += fmt.Sprintf("\n%d of them were approved since the revision: held against their goldens of now", s.ApprovedSince)
	}
	if s.New > 0 {
		line += "\nnew glyphs have no golden: run smokeproof approve"
	}
	if s.Partial {
		line += "\nthe run is partial: it ended before all was drawn"
	}
	return line
}

// moreIn says where the rest is shown.
func moreIn(res *harness.Results) string {
	if res.Looked {
		return "see the page"
	}
	return "run smokeproof review"
}
