package review

import (
	"cmp"
	"fmt"
	"slices"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// setFindings lists what was found of whole strikes, worst first.
func setFindings(res *harness.Results) []harness.Finding {
	var list []harness.Finding
	for _, s := range res.Strikes {
		list = append(list, s.Set...)
	}
	slices.SortStableFunc(list, func(a, b harness.Finding) int {
		return cmp.Or(gravity(a.Severity)-gravity(b.Severity), cmp.Compare(b.Score, a.Score))
	})
	return list
}

var sideText = map[string]string{
	harness.SideCandidate: "drawn now",
	harness.SideGolden:    "approved",
	harness.SideBoth:      "drawn now and approved",
}

// setCause is a finding that glyphs of one strike have alike, word for word.
type setCause struct {
	harness.Finding
	glyphs []string
}

// setCauses folds what was found of whole strikes, worst first.
func setCauses(res *harness.Results) []*setCause {
	first := map[[6]string]*setCause{}
	var list []*setCause
	for _, f := range setFindings(res) {
		k := [6]string{f.Face, f.Device, f.Size, f.Side, f.Finding, f.Text}
		c := first[k]
		if c == nil || f.Glyph == "" {
			c = &setCause{Finding: f}
			first[k], list = c, append(list, c)
		}
		c.glyphs = append(c.glyphs, plain(f.Glyph))
	}
	return list
}

// who names its glyphs.
func (c *setCause) who() string {
	if c.Glyph == "" {
		return "all glyphs"
	}
	return glyph.FirstOf(c.glyphs)
}

// setWhere tells the strike, and the side on which it was found.
func setWhere(f *harness.Finding) string {
	return fmt.Sprintf("%s, %s pt at %s dpi, %s", plain(f.Face), f.Size, f.DPI, sideText[f.Side])
}
