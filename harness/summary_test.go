package harness

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
)

func TestOfAWholeFaceWhatReadersMeetMostComesFirst(t *testing.T) {
	list := []Change{
		{Glyph: "hyphen", Code: '-', Severity: "major", Score: 9},
		{Glyph: "n", Code: 'n', Severity: "major", Score: 1},
		{Glyph: "ligature", Code: -1, Severity: "critical", Score: 9},
		{Glyph: "shade", Code: 0x2591, Severity: "critical", Score: 8},
		{Glyph: "percent", Code: '%', Severity: "critical", Score: 3},
		{Glyph: "thorn", Code: 'þ', Severity: "critical", Score: 4},
		{Glyph: "h", Code: 'h', Severity: "critical", Score: 1},
		{Glyph: "7", Code: '7', Severity: "critical", Score: 2},
	}
	order := func(status Status) (names []string) {
		for i := range list {
			list[i].Status = status
		}
		sortWorstFirst(list)
		for i := range list {
			names = append(names, list[i].Glyph)
		}
		return names
	}
	require.Equal(t, []string{"7", "h", "thorn", "percent", "ligature", "shade", "n", "hyphen"}, order("looked"),
		"within a class letters and figures of ASCII, other letters and signs of ASCII, the rest; each by score")
	require.Equal(t, []string{"ligature", "shade", "thorn", "percent", "7", "h", "hyphen", "n"}, order("changed"),
		"where somebody approved a bitmap, its weight alone counts")
}

func TestOfOneWeightTheFontsOrderCountsAndWhatIsNotDrawnComesLast(t *testing.T) {
	list := []Change{
		{Glyph: "new", Status: "new", Index: 1},
		{Glyph: "gone", Status: "missing", Index: 2, Severity: "major", Score: 4},
		{Glyph: "z", Status: "changed", Index: 9, Severity: "major", Score: 4},
		{Glyph: "a", Status: "changed", Index: 3, Severity: "major", Score: 4},
		{Glyph: "slight", Status: "changed", Index: 0, Severity: "trace", Score: 9},
		{Glyph: "heavy", Status: "missing", Index: 2, Severity: "major", Score: 5},
	}
	sortWorstFirst(list)
	var names []string
	for _, c := range list {
		names = append(names, c.Glyph)
	}
	require.Equal(t, []string{"heavy", "a", "z", "gone", "slight", "new"}, names)
}

func TestADecisionHoldsTheGateOpenToItsLastDay(t *testing.T) {
	now := time.Date(2027, 3, 10, 23, 59, 0, 0, time.Local)
	for _, c := range []struct {
		reason string
		change Change
		gate   diff.Severity
		fails  bool
	}{
		{"at the gate", Change{Status: "changed", Severity: "major"}, diff.Major, true},
		{"below it", Change{Status: "changed", Severity: "minor"}, diff.Major, false},
		{"above it", Change{Status: "missing", Severity: "critical"}, diff.Minor, true},
		{"nobody approved it", Change{Status: "new"}, diff.Critical, true},
		{"a severity that nobody knows is none to pass", Change{Status: "changed", Severity: "slight"}, diff.Critical, true},
		{"put off", Change{Status: "changed", Severity: "critical", Verdict: "later"}, diff.Major, false},
		{"a new one put off", Change{Status: "new", Verdict: "later"}, diff.Major, false},
		{"put off to this day", Change{Status: "changed", Severity: "major", Verdict: "later", Until: "2027-03-10"}, diff.Major, false},
		{"put off to the day before", Change{Status: "changed", Severity: "major", Verdict: "later", Until: "2027-03-09"}, diff.Major, true},
		{"rejected", Change{Status: "changed", Severity: "major", Verdict: "reject"}, diff.Major, true},
		{"rejected, to be mended by a day to come", Change{Status: "changed", Severity: "major", Verdict: "reject", Until: "2027-12-31"}, diff.Major, false},
		{"that day is past", Change{Status: "changed", Severity: "major", Verdict: "reject", Until: "2026-12-31"}, diff.Major, true},
		{"past, but below the gate", Change{Status: "changed", Severity: "trace", Verdict: "reject", Until: "2026-12-31"}, diff.Major, false},
	} {
		require.Equal(t, c.fails, c.change.fails(c.gate, now), c.reason)
	}
}
