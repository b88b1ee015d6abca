package review

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"smokeproof/harness"
)

// WriteMarkdown writes a summary for a merge request: faces that changed all over, the
// worst ten causes besides, inline art, counts by finding, and what to run next.
func WriteMarkdown(w io.Writer, res *harness.Results) error {
	b := bufio.NewWriter(w)
	all, rest := overhauls(res)
	found := causesFound(rest)
	worst := found[:min(10, len(found))]
	outcome, err := verdict(res)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "# Hinted type: %s\n\n%s\n", outcome, mark(counts(res)))
	for _, why := range res.Summary.Unread {
		fmt.Fprintf(b, "\n- %s\n", mark(Legible(why)))
	}
	for _, o := range all[:min(10, len(all))] {
		fmt.Fprintf(b, "\n## %s\n\n%s\n\n", mark(o.text(res.Looked)), mark(o.where()))
		for _, s := range o.signs {
			fmt.Fprintf(b, "- %d %s\n", len(s.members), mark(o.line(s)))
		}
	}
	if n := len(all) - 10; n > 0 {
		fmt.Fprintf(b, "\nand %d more faces all over\n", n)
	}
	if len(worst) > 0 {
		fmt.Fprintf(b, "\n## The worst %s\n\n| severity | finding | glyph | where | what |\n|---|---|---|---|---|\n", ofMany(len(worst), len(found)))
	}
	for _, g := range worst {
		f := g.worst().Findings[0]
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", f.Severity, f.Finding, mark(which(g)), mark(where(g)), mark(what(g)))
	}
	if len(all)+len(worst) > 0 {
		fmt.Fprint(b, "\n<details><summary>As pixels: <code>#</code> stays, <code>-</code> lost, <code>+</code> gained</summary>\n")
	}
	pictured := drawn(all, worst)
	for _, g := range pictured[:min(20, len(pictured))] {
		fmt.Fprintf(b, "\n%s\n\n", mark(g.caption()))
		for _, row := range art(g.change) {
			fmt.Fprintf(b, "    %s\n", row)
		}
	}
	if len(all)+len(worst) > 0 {
		fmt.Fprint(b, "\n</details>\n")
	}
	set := setCauses(res)
	for i := range set[:min(20, len(set))] {
		f := set[i]
		if i == 0 {
			fmt.Fprint(b, "\nBeside each other and from size to size:\n\n| severity | finding | glyph | where | what |\n|---|---|---|---|---|\n")
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", f.Severity, f.Finding.Finding, mark(f.who()), mark(setWhere(&f.Finding)), mark(plain(f.Text)))
	}
	said := decided(res)
	for i, line := range said[:min(20, len(said))] {
		if i == 0 {
			fmt.Fprint(b, "\n## Decided before\n\n")
		}
		fmt.Fprintf(b, "- %s\n", mark(line))
	}
	if len(res.Summary.ByFinding) > 0 {
		fmt.Fprint(b, "\n## By finding\n\n| finding | count | means |\n|---|---|---|\n")
		for _, k := range mostFirst(res.Summary.ByFinding) {
			fmt.Fprintf(b, "| %s | %d | %s |\n", k, res.Summary.ByFinding[k], meaning[k])
		}
	}
	fmt.Fprintf(b, "\n## Next\n\n%s\n", next(res))
	return b.Flush()
}

func ofMany(n, all int) string {
	if n == all {
		return fmt.Sprintf("%d", n)
	}
	return fmt.Sprintf("%d of %d causes", n, all)
}

// mostFirst orders names by count, equal counts by name.
func mostFirst(counts map[string]int) []string {
	return slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		return cmp.Or(cmp.Compare(counts[b], counts[a]), cmp.Compare(a, b))
	})
}

// next says what to run, for what the run came to.
func next(res *harness.Results) string {
	s := res.Summary
	switch {
	case len(s.Unread) > 0:
		return "Mend the goldens named above, then `smokeproof check` again; `smokeproof verify` tells of all that is wrong with goldens."
	case s.Partial || s.Undrawn > 0:
		return "Mend the renderer or the font, then `smokeproof check` again: what was not drawn was not judged."
	case s.Changed+s.Missing > 0:
		return "`smokeproof review`, open `out/review/index.html`, decide, save, then `smokeproof approve --decisions decisions.json`."
	case s.ByHand > 0:
		return "Look at the bitmaps that were imported or changed by hand, then `smokeproof approve --stored --why \"…\"` keeps them."
	case s.New > 0:
		return "Look at the new glyphs, then `smokeproof approve --why \"…\"`."
	case len(setFindings(res)) > 0:
		return "Mend the hints of the glyphs named above, or raise the gate: what glyphs are beside each other is not approved away."
	}
	return "Nothing: every glyph is as approved."
}

func verdict(res *harness.Results) (string, error) {
	switch {
	case res.Summary.Partial || res.Summary.Undrawn > 0:
		return "the run is incomplete", nil
	case res.Summary.Exit == harness.ExitOK:
		return "nothing at the gate", nil
	}
	failing := 0
	err := res.Each(func(c *harness.Change) error {
		if c.Fails(res.Gate) {
			failing++
		}
		return nil
	})
	if failing == 0 {
		return "there is something to review", err
	}
	return fmt.Sprintf("to decide: %d, gate: %s", failing, res.Gate), err
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
