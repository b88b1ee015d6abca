package review

import (
	"fmt"

	"smokeproof/harness"
)

// decided tells in a line each what somebody has said, of a face in the same words, about
// changes that are drawn again: that they are wrong, or that they can wait.
func decided(res *harness.Results) []string {
	first := map[[2]string]*cause{}
	var list []*cause
	var words []string
	for i := range res.Changes {
		c := &res.Changes[i]
		said := saidOf(c, res.Gate)
		if said == "" {
			continue
		}
		k := [2]string{c.Face, said}
		if first[k] == nil {
			first[k] = &cause{}
			list, words = append(list, first[k]), append(words, said)
		}
		first[k].members = append(first[k].members, c)
	}
	for i, g := range list {
		words[i] = fmt.Sprintf("%s in %s: %s", which(g), where(g), Legible(words[i]))
	}
	return words
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
