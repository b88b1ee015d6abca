package review

import (
	"cmp"
	"fmt"
	"slices"

	"smokeproof/diff"
	"smokeproof/harness"
)

// setFindings lists what was found of whole strikes, worst first.
func setFindings(res *harness.Results) []harness.Finding {
	var list []harness.Finding
	for _, s := range res.Strikes {
		list = append(list, s.Set...)
	}
	rank := func(f harness.Finding) int {
		sev, err := diff.ParseSeverity(f.Severity)
		if err != nil {
			return -1
		}
		return int(sev)
	}
	slices.SortStableFunc(list, func(a, b harness.Finding) int {
		return cmp.Or(rank(b)-rank(a), cmp.Compare(b.Score, a.Score))
	})
	return list
}

var sideText = map[string]string{
	harness.SideCandidate: "drawn now",
	harness.SideGolden:    "approved",
	harness.SideBoth:      "drawn now and approved",
}

// setLine is a finding of a strike in one line.
func setLine(f *harness.Finding) string {
	glyph := f.Glyph
	if glyph == "" {
		glyph = "all glyphs"
	}
	return fmt.Sprintf("%-8s %-14s %-12s %s %s dpi %s pt, %s: %s", f.Severity, f.Finding, plain(glyph), plain(f.Face), f.DPI, f.Size, sideText[f.Side], plain(f.Text))
}
