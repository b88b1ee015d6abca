package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestPartsThatMovedTogetherAreNeitherPartedNorJoined(t *testing.T) {
	golden := drawn(`
		.##.....
		..##....
		...#....
		........
		.#####..
		##...#..
		.....##.
		.....##.
		.######.
		##...##.
		#....##.
		#...###.
		####..##`)
	lower := drawn(`
		.##.....
		..##....
		...#....
		........
		.#####..
		##...##.
		.....##.
		.######.
		##...##.
		#....##.
		#...###.
		####..##`)
	topless := box(golden, 0, 0, 8, 8, 9)
	for _, c := range []struct {
		reason            string
		golden, candidate *glyph.Cell
		kind              diff.Kind
		is                bool
	}{
		{"the letter a row lower, and its accent with it, which stands where the letter was", golden, lower, diff.Break, false},
		{"and higher", lower, golden, diff.Bridge, false},
		{"the first stroke of the letter is a part of its own", golden, topless, diff.Break, true},
		{"and part of it", topless, golden, diff.Bridge, true},
	} {
		kinds := map[diff.Kind]bool{}
		for _, f := range compare(at(203), c.golden, c.candidate).Findings {
			kinds[f.Kind] = true
		}
		require.NotEmpty(t, kinds, c.reason)
		require.Equal(t, c.is, kinds[c.kind], "%s: %v", c.reason, kinds)
	}
}
