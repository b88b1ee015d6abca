package review

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"smokeproof/harness"
)

// WriteMarkdown writes a summary for a merge request: the worst ten with inline
// art, counts by finding, and what to run next.
func WriteMarkdown(w io.Writer, res *harness.Results) error {
	b := bufio.NewWriter(w)
	gs := groups(res)
	fmt.Fprintf(b, "# Hinted type: %s\n\n%s\n", verdict(res), mark(counts(res)))
	if len(gs) > 0 {
		fmt.Fprint(b, "\n| severity | finding | glyph | where | what |\n|---|---|---|---|---|\n")
	}
	worst := gs[:min(10, len(gs))]
	for _, g := range worst {
		f := g.worst.Findings[0]
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", f.Severity, f.Finding, mark(plain(g.worst.Glyph)), mark(where(g)), mark(plain(f.Text)))
	}
	for _, g := range worst {
		fmt.Fprintf(b, "\n%s, %s (`-` lost, `+` gained)\n\n", mark(plain(g.worst.Glyph)), mark(strikeOf(g.worst)))
		for _, row := range art(g.worst) {
			fmt.Fprintf(b, "    %s\n", row)
		}
	}
	if len(res.Summary.ByFinding) > 0 {
		fmt.Fprint(b, "\n| finding | count |\n|---|---|\n")
		for _, k := range slices.Sorted(maps.Keys(res.Summary.ByFinding)) {
			fmt.Fprintf(b, "| %s | %d |\n", k, res.Summary.ByFinding[k])
		}
	}
	fmt.Fprint(b, "\nNext: `smokeproof review`, open `out/review/index.html`, decide, then `smokeproof approve --decisions FILE`.\n")
	return b.Flush()
}

func verdict(res *harness.Results) string {
	switch {
	case res.Summary.Partial || res.Summary.Undrawn > 0:
		return "the run is incomplete"
	case res.Summary.Exit == harness.ExitOK:
		return "nothing at the gate"
	}
	return "there is something to review"
}

// mark makes text harmless in Markdown, which also takes HTML.
func mark(s string) string {
	var sb strings.Builder
	for _, r := range s {
		if strings.ContainsRune("\\`*_{}[]<>()#|!&~", r) {
			fmt.Fprintf(&sb, "&#%d;", r)
		} else {
			sb.WriteRune(r)
		}
	}
	return sb.String()
}
