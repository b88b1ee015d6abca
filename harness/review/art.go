package review

import (
	"strings"

	"smokeproof/harness"
)

// art draws golden and candidate over each other, rows top to bottom: '#' stays,
// '-' is ink lost, '+' ink gained, '.' none. What was not drawn has no picture.
func art(c *harness.Change) []string {
	switch {
	case c.Status == "undrawn":
		return nil
	case c.Golden == nil && c.Candidate != nil: // nothing to gain ink over
		return rows(c.Candidate)
	}
	g, d := unpack(c.Golden), unpack(c.Candidate)
	left, bottom := min(g.Left, d.Left), min(g.Bottom, d.Bottom)
	right, top := max(g.Right(), d.Right()), max(g.Top(), d.Top())
	if blank(&g) {
		left, bottom, right, top = d.Left, d.Bottom, d.Right(), d.Top()
	} else if blank(&d) {
		left, bottom, right, top = g.Left, g.Bottom, g.Right(), g.Top()
	}
	if note := tooLarge(right-left, top-bottom, maxArt); note != "" {
		return []string{note}
	}
	var rows []string
	for y := top - 1; y >= bottom; y-- {
		var sb strings.Builder
		for x := left; x < right; x++ {
			i := 0
			if inked(&g, x, y) {
				i |= 1
			}
			if inked(&d, x, y) {
				i |= 2
			}
			sb.WriteByte(".-+#"[i])
		}
		rows = append(rows, sb.String())
	}
	return rows
}

// rows draws one picture, '#' for ink of half coverage and more.
func rows(p *harness.Picture) []string {
	b := unpack(p)
	if note := tooLarge(b.Width, b.Height, maxArt); note != "" {
		return []string{note}
	}
	var out []string
	for y := b.Top() - 1; y >= b.Bottom; y-- {
		var sb strings.Builder
		for x := b.Left; x < b.Right(); x++ {
			if inked(&b, x, y) {
				sb.WriteByte('#')
			} else {
				sb.WriteByte('.')
			}
		}
		out = append(out, sb.String())
	}
	return out
}
