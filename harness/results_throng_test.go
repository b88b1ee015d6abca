package harness

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFacesWithTheMostChangesAreThrongs(t *testing.T) {
	const most = MostApart
	for _, c := range []struct {
		reason  string
		changes map[string]int
		want    []string
	}{
		{"so many are looked at one by one", map[string]int{"a": most}, nil},
		{"one more are not", map[string]int{"a": most + 1}, []string{"a"}},
		{"the face with the most goes first, and that is enough", map[string]int{"a": 2, "b": most, "c": 3}, []string{"b"}},
		{"others follow until few are left", map[string]int{"a": most, "b": most - 1, "c": 2}, []string{"a", "b"}},
		{"of equal ones the first by name", map[string]int{"b": most, "a": most}, []string{"a"}},
	} {
		var near, looked Results
		for face, n := range c.changes {
			near.Strikes = append(near.Strikes, StrikeRecord{Face: face, Counts: Counts{Glyphs: n + 9, Equal: 9, Changed: n / 2, New: n - n/2}})
			looked.Strikes = append(looked.Strikes, StrikeRecord{Face: face, Counts: Counts{Glyphs: 9 * n}})
			for i := range n {
				near.Changes = append(near.Changes, Change{Face: face, Size: "8", DPI: "203", Glyph: fmt.Sprint(i)})
			}
		}
		near.Version, near.Summary = ResultsVersion, *NewSummary()
		looked.Header, looked.Summary, looked.Changes = near.Header, near.Summary, near.Changes
		looked.Looked = true
		far, farLooked := stored(t, &near), stored(t, &looked)
		for where, res := range map[string]*Results{"in memory": &near, "in their file": far, "looked at, in memory": &looked, "looked at, in their file": farLooked} {
			throngs, err := res.Throngs()
			require.NoError(t, err)
			require.Len(t, throngs, len(c.want), "%s, %s", c.reason, where)
			for _, face := range c.want {
				require.True(t, throngs[face], "%s, %s: %s", c.reason, where, face)
			}
		}
	}
}

// stored gives results whose changes stay in their file.
func stored(t *testing.T, res *Results) *Results {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, WriteResults(dir, res))
	out, err := OpenResults(dir + "/" + ResultsName)
	require.NoError(t, err)
	require.Empty(t, out.Changes)
	return out
}
