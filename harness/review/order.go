package review

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"smokeproof/harness"
)

// worstFirst orders the changes of a whole run.
func worstFirst(res *harness.Results) []*harness.Change {
	out := make([]*harness.Change, len(res.Changes))
	for i := range res.Changes {
		out[i] = &res.Changes[i]
	}
	slices.SortStableFunc(out, func(a, b *harness.Change) int { return harness.Worse(b, a) })
	return out
}

// severities are listed gravest first.
var severities = []string{"critical", "major", "minor", "trace"}

func strikeOf(c *harness.Change) string {
	return fmt.Sprintf("%s %s pt %s dpi %s", plain(c.Face), c.Size, c.DPI, plain(c.Device))
}

// plain makes an untrusted name printable on one line: what is not a visible
// character becomes its code point.
func plain(s string) string {
	var sb strings.Builder
	for _, r := range s {
		if r == unicode.ReplacementChar || !unicode.IsPrint(r) {
			fmt.Fprintf(&sb, "<U+%04X>", r)
		} else {
			sb.WriteRune(r)
		}
	}
	if r := []rune(sb.String()); len(r) > 120 {
		return string(r[:120]) + "…"
	}
	return sb.String()
}
