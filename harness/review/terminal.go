package review

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"smokeproof/harness"
)

const (
	faint   = "\x1b[2m"
	plainly = "\x1b[0m"
)

// tint is how a severity looks where colour is wanted; its word is always there.
var tint = map[string]string{"critical": "\x1b[1;35m", "major": "\x1b[1m", "minor": "", "trace": faint}

// WriteTerminal prints the worst causes, two lines each, and the worst three as
// pixels; more says where the rest is shown. Sentences break at width columns; 0 breaks none.
func WriteTerminal(w io.Writer, g *Gist, more string, color bool, width int) error {
	p := &printer{w: bufio.NewWriter(w), rest: Legible(more), color: color, width: width}
	all, res := g.overhauls, g.Results
	found := causesFound(g.rest)
	most := 12
	p.overhauls(all, most, res)
	if len(all) > 0 && len(found) > 0 {
		p.line("")
	}
	for _, g := range found[:min(most, len(found))] {
		c := g.worst()
		p.entry(cmp.Or(c.Severity, string(harness.StatusNew)), which(g)+": "+what(g), c.Findings[0].Finding+" in "+where(g))
	}
	p.more(len(found)-most, p.rest)
	p.pictures(all, found)
	set := setCauses(res)
	for i := range set[:min(most, len(set))] {
		if i == 0 {
			p.line("")
			p.line("Beside each other, and from size to size:")
		}
		f := set[i]
		p.entry(f.Severity, f.who()+": "+plain(f.Text), f.Finding.Finding+" in "+setWhere(&f.Finding))
	}
	p.more(len(set)-most, "see "+harness.ResultsName)
	said := g.decided()
	for i, line := range said[:min(most, len(said))] {
		if i == 0 {
			p.line("")
			p.line("Decided before:")
		}
		p.line(strings.Join(broken(line, p.width), "\n"))
	}
	p.more(len(said)-most, "see "+harness.ResultsName)
	if len(all)+len(found)+len(set)+len(said) > 0 {
		p.line("")
	}
	p.line(counts(res))
	if !res.Looked {
		p.line(passes(res))
	}
	return p.w.Flush()
}

// printer writes for a person at a terminal.
type printer struct {
	w     *bufio.Writer
	rest  string // where it is shown
	color bool
	width int
}

func (p *printer) line(text string) { fmt.Fprintln(p.w, text) }

// entry prints a severity with what was found, and below it where.
func (p *printer) entry(severity, what, where string) {
	const column = 10
	indent := strings.Repeat(" ", column)
	word := fmt.Sprintf("%-*s", column, severity)
	if p.color && tint[severity] != "" {
		word = tint[severity] + word + plainly
	}
	fmt.Fprintf(p.w, "%s%s\n", word, strings.Join(broken(what, p.width-column), "\n"+indent))
	below := strings.Join(broken(where, p.width-column), "\n"+indent)
	if p.color {
		below = faint + below + plainly
	}
	fmt.Fprintf(p.w, "%s%s\n", indent, below)
}

// overhauls prints what befell faces, and of the worst three what shows of it, gravest
// and most first.
func (p *printer) overhauls(all []*overhaul, most int, res *harness.Results) {
	const told, column = 3, 17
	for i, o := range all[:min(most, len(all))] {
		if i > 0 && i <= told {
			p.line("")
		}
		p.entry(o.worst.change.Severity, o.text(&res.Header), o.where())
		if i >= told {
			continue
		}
		for _, s := range o.signs[:min(most, len(o.signs))] {
			p.line(fmt.Sprintf("%*d  %s", column-2, s.n, strings.Join(broken(o.line(s), p.width-column), "\n"+strings.Repeat(" ", column))))
		}
	}
	p.more(len(all)-most, p.rest)
	if len(all) > 0 {
		p.line("glyph by glyph: " + p.rest)
	}
}

func (p *printer) more(n int, see string) {
	if n > 0 {
		p.line(fmt.Sprintf("and %d more; %s", n, see))
	}
}

// pictures draws what shows of the faces that changed all over, and the worst others,
// three that do not look alike, each with its sentence.
func (p *printer) pictures(all []*overhaul, found []*cause) {
	pictured := sightings(all, found)
	pictured = pictured[:min(3, len(pictured))]
	for i, g := range pictured {
		if i == 0 && slices.ContainsFunc(pictured, func(s sighting) bool { return s.change.Golden != nil }) {
			p.line("")
			p.line(overlayKey)
		}
		p.line("")
		p.line(strings.Join(broken(g.caption(), p.width), "\n"))
		for _, row := range art(g.change) {
			p.line("  " + row)
		}
	}
}

// broken breaks a sentence at spaces into lines of width columns; a longer word
// keeps a line of its own.
func broken(text string, width int) []string {
	var lines []string
	for _, word := range strings.Fields(text) {
		last := len(lines) - 1
		if last >= 0 && (width <= 0 || len([]rune(lines[last]))+1+len([]rune(word)) <= width) {
			lines[last] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// causesFound leaves out what is new and nothing more: there is nothing to tell of it.
func causesFound(changes []*harness.Change) []*cause {
	return slices.DeleteFunc(causes(changes), func(c *cause) bool { return len(c.worst().Findings) == 0 })
}
