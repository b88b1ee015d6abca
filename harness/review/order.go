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
	sortWorst(out)
	return out
}

func sortWorst(cs []*harness.Change) {
	slices.SortStableFunc(cs, func(a, b *harness.Change) int { return harness.Worse(b, a) })
}

// ranked is a change by where it stands, and how grave it is: a run may have a million.
type ranked struct {
	spot   harness.Spot
	weight harness.Weight
}

// sortRanked puts changes in the order of worstFirst.
func sortRanked(list []ranked) {
	slices.SortStableFunc(list, func(a, b ranked) int { return b.weight.Compare(a.weight) })
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
