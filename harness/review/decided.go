package review

import (
	"fmt"

	"smokeproof/harness"
)

// decided tells in a line each what somebody has said about changes that are
// drawn again: that they are wrong, or that they can wait.
func decided(res *harness.Results) []string {
	var out []string
	for i := range res.Changes {
		c := &res.Changes[i]
		said := ""
		switch c.Verdict {
		case "reject":
			said = "rejected"
		case "later":
			said = "put off"
		default:
			continue
		}
		if c.Until != "" {
			said += " until " + c.Until
			if c.Fails(res.Gate) {
				said += " (over)"
			}
		}
		line := fmt.Sprintf("%s, %s: %s", c.Glyph, strikeOf(c), said)
		if c.DecidedBy != "" {
			line += " by " + c.DecidedBy
		}
		if c.DecidedWhy != "" {
			line += ": " + c.DecidedWhy
		}
		out = append(out, plain(line))
	}
	return out
}
