package review

import (
	"fmt"

	"smokeproof/harness"
)

// saying is what somebody has said, of a face in the same words, about changes that are drawn
// again: that they are wrong, or that they can wait.
type saying struct {
	crowd
	first *harness.Change // named first; nil where the plainest is
	words string
}

// hear notes what was said of a change.
func (g *Gist) hear(s seen) {
	words := saidOf(s.change, g.Gate)
	if words == "" {
		return
	}
	k := [2]string{s.change.Face, words}
	if g.said[k] == nil {
		g.said[k] = &saying{crowd: crowd{order: plainestOfWorst}, first: s.change, words: words}
		if common(s.change) != "" { // as which names those of a cause
			g.said[k].first, g.said[k].order = nil, plainest
		}
		g.sayings = append(g.sayings, g.said[k])
	}
	g.said[k].add(s)
}

// decided tells in a line each what was said.
func (g *Gist) decided() []string {
	var lines []string
	for _, s := range g.sayings {
		lines = append(lines, fmt.Sprintf("%s in %s: %s", s.which(s.first), s.where(), Legible(s.words)))
	}
	return lines
}

// saidOf is "put off until 2027-01-31 by Ada Marsh: a sample is at the printer's"; "" where
// nothing was said.
func saidOf(c *harness.Change, gate string) string {
	said := map[string]string{"reject": "rejected", "later": "put off"}[c.Verdict]
	if said == "" {
		return ""
	}
	if c.Until != "" {
		said += " until " + c.Until
		if c.Fails(gate) {
			said += " (over)"
		}
	}
	if c.DecidedBy != "" {
		said += " by " + c.DecidedBy
	}
	if c.DecidedWhy != "" {
		said += ": " + c.DecidedWhy
	}
	return said
}
