package review

import (
	"smokeproof/diff"
	"smokeproof/harness"
)

// overlayKey says what art is made of.
const overlayKey = "# stays   - lost   + gained"

// art draws golden and candidate over each other. What was not drawn has no picture, and
// what nobody approved no golden to gain ink over.
func art(c *harness.Change) []string {
	switch {
	case c.Status == harness.StatusUndrawn:
		return nil
	case c.Golden == nil && c.Candidate != nil:
		return rows(c.Candidate)
	}
	g, d := unpack(c.Golden), unpack(c.Candidate)
	return diff.Overlay(&g, &d)
}

// rows draws one picture.
func rows(p *harness.Picture) []string {
	b := unpack(p)
	return diff.Overlay(&b, &b)
}
