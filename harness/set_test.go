package harness

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
)

func TestAFindingOfTheSetSaysOnWhichSideItIs(t *testing.T) {
	wide := diff.SetFinding{Glyph: "h", Finding: diff.Finding{Kind: diff.StemUneven, MeasurePx: 1}}
	low := diff.SetFinding{Glyph: "o", Finding: diff.Finding{Kind: diff.Height, MeasurePx: -1}}
	for _, c := range []struct {
		reason            string
		candidate, golden []diff.SetFinding
		sides             []string
	}{
		{"drawn now alone", []diff.SetFinding{wide}, nil, []string{SideCandidate}},
		{"approved alone", nil, []diff.SetFinding{wide}, []string{SideGolden}},
		{"approved and drawn again", []diff.SetFinding{wide}, []diff.SetFinding{wide}, []string{SideBoth}},
		{"one of each", []diff.SetFinding{wide}, []diff.SetFinding{low}, []string{SideCandidate, SideGolden}},
		{"twice now, and once approved", []diff.SetFinding{wide, wide}, []diff.SetFinding{wide}, []string{SideBoth, SideCandidate}},
	} {
		var s StrikeResult
		s.addSet(c.candidate, c.golden)
		var sides []string
		for _, f := range s.Set {
			sides = append(sides, f.Side)
		}
		require.Equal(t, c.sides, sides, c.reason)
	}
}
