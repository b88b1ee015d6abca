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

// gravity is the place of a severity, 0 the gravest; -1 of none, as of new glyphs.
func gravity(severity string) int { return slices.Index(severities, severity) }

func strikeOf(c *harness.Change) string {
	return fmt.Sprintf("%s %s pt %s dpi %s", plain(c.Face), c.Size, c.DPI, plain(c.Device))
}

// Legible keeps names that strangers gave from moving the cursor or turning a line
// round: what is no visible character becomes its code point.
func Legible(s string) string {
	var sb strings.Builder
	for _, r := range s {
		if unicode.IsPrint(r) {
			sb.WriteRune(r)
		} else {
			fmt.Fprintf(&sb, "<U+%04X>", r)
		}
	}
	return sb.String()
}

// plain is a legible name, of letters that Unicode has, cut where it is long.
func plain(s string) string {
	s = strings.ReplaceAll(Legible(s), string(unicode.ReplacementChar), "<U+FFFD>")
	if r := []rune(s); len(r) > 120 {
		return string(r[:120]) + "…"
	}
	return s
}
