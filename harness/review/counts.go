package review

import (
	"cmp"
	"fmt"
	"maps"
	"path/filepath"
	"slices"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// Counted is a number and what is counted: "1 glyph", "2 glyphs".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func counts(res *harness.Results) string {
	s := res.Summary
	line := fmt.Sprintf("%s in %s: %d equal, %d changed, %d new, %d missing, %d undrawn; findings",
		Counted(s.Glyphs, "glyph"), Counted(s.Strikes, "strike"), s.Equal, s.Changed, s.New, s.Missing, s.Undrawn)
	if res.Looked {
		line = fmt.Sprintf("%s in %s, %s with faults by their own outlines; findings", Counted(s.Glyphs, "glyph"), Counted(s.Strikes, "strike"), Counted(len(res.Changes), "drawing"))
	}
	for i, n := range severities {
		line += fmt.Sprintf("%s %d %s", ":,,,"[i:i+1], s.BySeverity[n], n)
	}
	if s.ApprovedSince > 0 {
		line += fmt.Sprintf("\n%d of them were approved since the revision: held against their goldens of now", s.ApprovedSince)
	}
	if said := otherNames(res); said != "" {
		line += "\n" + said
	}
	if s.AtFault > 0 {
		line += fmt.Sprintf("\n%d of the new at fault by their own outlines", s.AtFault)
	}
	if s.Astray > 0 {
		line += fmt.Sprintf("\n%d of the new were approved, and their goldens are gone from the golden folder: restore them; smokeproof verify names them", s.Astray)
	}
	if s.New > s.ByHand+s.Astray && res.Decidable() {
		line += "\nnobody approved the new glyphs yet: smokeproof approve"
	}
	if s.ByHand > 0 {
		line += fmt.Sprintf("\n%d of the new have a bitmap in the golden folder, imported or changed by hand: smokeproof approve --stored keeps it", s.ByHand)
	}
	if s.Missing > 0 && res.Decidable() && res.Since == "" {
		line += "\nif the missing glyphs are to be no more: smokeproof approve --gone drops their goldens"
	}
	if s.Partial {
		line += "\nthe run is partial: not every strike was judged"
	}
	return line
}

// otherNames says what to do where glyphs may only have been renamed; "" where none can have been.
func otherNames(res *harness.Results) string {
	if res.Summary.Missing == 0 || res.Summary.New == 0 || !res.Decidable() || res.Since != "" {
		return ""
	}
	return "if the missing are the new under other names: smokeproof approve --renamed carries their goldens over"
}

// of says what was drawn, and held against what, for the head of a page.
func of(res *harness.Results) string {
	base := func(path string) string { return plain(filepath.Base(path)) }
	switch {
	case res.Against != "" && len(res.Faces) > 0:
		is, was := res.Faces[0].File, res.Against
		if base(is) != base(was) {
			return base(is) + " against " + base(was)
		}
		return plain(is) + " against " + plain(was)
	case res.Looked:
		var files []string
		for _, f := range res.Faces {
			files = append(files, base(f.File))
		}
		return glyph.FirstOf(files)
	case res.Plan == "":
		return ""
	case res.Since != "":
		return base(res.Plan) + " against the goldens of " + plain(res.Since)
	}
	return base(res.Plan)
}

// sides are what the two drawings of a glyph are called.
func sides(h *harness.Header) [2]string {
	if h.Against != "" {
		return [2]string{"old", "new"}
	}
	return [2]string{"golden", "candidate"}
}

// standard is what drawings were to be like.
func standard(h *harness.Header) string {
	if h.Against != "" {
		return "in " + plain(h.Against)
	}
	return "approved"
}

// passes says in a line what the exit status says to a machine.
func passes(res *harness.Results) string {
	switch res.Summary.Exit {
	case harness.ExitOK:
		return "passes the gate, " + res.Gate
	case harness.ExitFindings:
		return "does not pass the gate, " + res.Gate
	}
	return "the run is incomplete; gate: " + res.Gate
}

func (g *Gist) verdict() string {
	switch {
	case g.Summary.Partial || g.Summary.Undrawn > 0:
		return "the run is incomplete"
	case g.Summary.Exit == harness.ExitOK:
		return "nothing at the gate"
	case g.failing == 0:
		return "there is something to review"
	}
	what := "to decide"
	switch {
	case g.Looked:
		what = "drawings at fault"
	case g.Against != "":
		what = "drawings that differ"
	}
	return fmt.Sprintf("%s: %d, gate: %s", what, g.failing, g.Gate)
}

// mostFirst orders names by count, equal counts by name.
func mostFirst(counts map[string]int) []string {
	return slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		return cmp.Or(cmp.Compare(counts[b], counts[a]), cmp.Compare(a, b))
	})
}
