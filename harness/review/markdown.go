package review

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"smokeproof/harness"
)

// WriteMarkdown writes a summary for a merge request: faces that changed all over, the
// worst ten causes besides, inline art, counts by finding, and what to run next.
func WriteMarkdown(w io.Writer, g *Gist) error {
	const most = 10
	all, res := g.overhauls, g.Results
	found := causesFound(g.rest)
	worst := found[:min(most, len(found))]
	m := markdown{bufio.NewWriter(w)}
	m.print("# Hinted type: %s\n\n%s\n", g.verdict(), mark(counts(res)))
	for _, why := range res.Summary.Unread {
		m.print("\n- %s\n", mark(Legible(why)))
	}
	for _, o := range all[:min(most, len(all))] {
		m.overhaul(o, &res.Header)
	}
	if n := len(all) - most; n > 0 {
		m.print("\nand %d more faces all over\n", n)
	}
	if len(worst) > 0 {
		m.print("\n## The worst %s\n\n%s", ofMany(len(worst), len(found)), causesHead)
	}
	for _, g := range worst {
		f := g.worst().Findings[0]
		m.cause(choose(g.worst().Status == harness.StatusNew, "new, ", "")+f.Severity, f.Finding, which(g), where(g), what(g))
	}
	if len(all)+len(worst) > 0 {
		m.pictures(sightings(all, worst))
	}
	m.set(setCauses(res))
	m.decided(g.decided())
	m.byFinding(res.Summary.ByFinding)
	m.print("\n## Next\n\n%s\n", next(res))
	return m.w.Flush()
}

// markdown writes the summary. It shows no more than twenty of anything.
type markdown struct{ w *bufio.Writer }

const (
	causesHead = "| severity | finding | glyph | where | what |\n|---|---|---|---|---|\n"
	mostShown  = 20
)

func (m *markdown) print(format string, args ...any) { fmt.Fprintf(m.w, format, args...) }

func (m *markdown) overhaul(o *overhaul, h *harness.Header) {
	m.print("\n## %s\n\n%s\n\n", mark(o.text(h)), mark(o.where()))
	for _, s := range o.signs {
		m.print("- %d %s\n", s.n, mark(o.line(s)))
	}
}

func (m *markdown) cause(severity, finding, glyph, where, what string) {
	m.print("| %s | %s | %s | %s | %s |\n", severity, finding, mark(glyph), mark(where), mark(what))
}

func (m *markdown) pictures(list []sighting) {
	m.print("\n<details><summary>As pixels: <code>#</code> stays, <code>-</code> lost, <code>+</code> gained</summary>\n")
	for _, s := range list[:min(mostShown, len(list))] {
		m.print("\n%s\n\n", mark(s.caption()))
		for _, row := range art(s.change) {
			m.print("    %s\n", row)
		}
	}
	m.print("\n</details>\n")
}

func (m *markdown) set(list []*setCause) {
	for i, f := range list[:min(mostShown, len(list))] {
		if i == 0 {
			m.print("\nBeside each other and from size to size:\n\n%s", causesHead)
		}
		m.cause(f.Severity, f.Finding.Finding, f.who(), setWhere(&f.Finding), plain(f.Text))
	}
}

func (m *markdown) decided(said []string) {
	for i, line := range said[:min(mostShown, len(said))] {
		if i == 0 {
			m.print("\n## Decided before\n\n")
		}
		m.print("- %s\n", mark(line))
	}
}

func (m *markdown) byFinding(counts map[string]int) {
	if len(counts) == 0 {
		return
	}
	m.print("\n## By finding\n\n| finding | count | means |\n|---|---|---|\n")
	for _, k := range mostFirst(counts) {
		m.print("| %s | %d | %s |\n", k, counts[k], meaning[k])
	}
}

func ofMany(n, all int) string {
	if n == all {
		return fmt.Sprintf("%d", n)
	}
	return fmt.Sprintf("%d of %d causes", n, all)
}

// next says what to run, for what the run came to.
func next(res *harness.Results) string {
	s := res.Summary
	switch {
	case !res.Decidable() && s.Exit == harness.ExitOK && len(res.Changes) == 0:
		return "Nothing."
	case !res.Decidable():
		return "Look at the page: nothing is approved here, so nothing is to be decided; mend the font where it is worse."
	case len(s.Unread) > 0:
		return "Mend the goldens named above, then `smokeproof check` again; `smokeproof verify` tells of all that is wrong with goldens."
	case s.Astray > 0:
		return "Restore the goldens that are gone from the golden folder: `smokeproof verify` names them, and git has them; then `smokeproof check` again."
	case s.Partial || s.Undrawn > 0:
		return "Mend the renderer or the font, then `smokeproof check` again: what was not drawn was not judged."
	case s.Changed+s.Missing > 0 && res.Since != "":
		return "`smokeproof review --since` with the same revision shows it glyph by glyph; what is decided is decided on the goldens of now, in `smokeproof review`."
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
