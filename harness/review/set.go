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

// setGlyph names the glyph of a finding of a strike.
func setGlyph(f *harness.Finding) string {
	if f.Glyph == "" {
		return "all glyphs"
	}
	return plain(f.Glyph)
}

// setWhere tells the strike, and the side on which it was found.
func setWhere(f *harness.Finding) string {
	return fmt.Sprintf("%s, %s pt at %s dpi, %s", plain(f.Face), f.Size, f.DPI, sideText[f.Side])
}
