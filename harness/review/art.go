package review

import (
	"strings"

	"smokeproof/harness"
)

// art draws golden and candidate over each other, rows top to bottom: '#' stays,
// '-' is ink lost, '+' ink gained, '.' none.
func art(c *harness.Change) []string {
	g, d := unpack(c.Golden), unpack(c.Candidate)
	left, bottom := min(g.left, d.left), min(g.bottom, d.bottom)
	right, top := max(g.right(), d.right()), max(g.top(), d.top())
	if g.empty() {
		left, bottom, right, top = d.left, d.bottom, d.right(), d.top()
	} else if d.empty() {
		left, bottom, right, top = g.left, g.bottom, g.right(), g.top()
	}
	var rows []string
	for y := top - 1; y >= bottom; y-- {
		var sb strings.Builder
		for x := left; x < right; x++ {
			i := 0
			if g.ink(x, y) {
				i |= 1
			}
			if d.ink(x, y) {
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
	var out []string
	for y := b.top() - 1; y >= b.bottom; y-- {
		var sb strings.Builder
		for x := b.left; x < b.right(); x++ {
			if b.ink(x, y) {
				sb.WriteByte('#')
			} else {
				sb.WriteByte('.')
			}
		}
		out = append(out, sb.String())
	}
	return out
}
