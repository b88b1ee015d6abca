package review

import (
	"cmp"
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

// group is one cause to look at: a finding of one glyph of a face on a device,
// at however many sizes.
type group struct {
	worst *harness.Change
	sizes []string
	score float64
}

// groups folds changes by glyph and first finding, worst first.
func groups(res *harness.Results) []*group {
	byKey := map[[4]string]*group{}
	var out []*group
	for _, c := range worstFirst(res) {
		if len(c.Findings) == 0 {
			continue
		}
		k := [4]string{c.Face, c.Device, c.Glyph, c.Findings[0].Finding}
		g := byKey[k]
		if g == nil {
			g = &group{worst: c}
			byKey[k] = g
			out = append(out, g)
		}
		g.sizes = append(g.sizes, c.Size)
		g.score += c.Score
	}
	slices.SortStableFunc(out, func(a, b *group) int {
		return cmp.Or(severityRank(b.worst.Severity)-severityRank(a.worst.Severity), cmp.Compare(b.score, a.score))
	})
	return out
}

func severityRank(s string) int { return len(severities) - 1 - slices.Index(severities, s) }

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
