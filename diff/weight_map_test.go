package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// A stem's edge outweighs a diagonal's, and the hairline that joins two stems
// outweighs both.
func TestWeightsFollowTheStructure(t *testing.T) {
	weight := func(c *glyph.Cell, x, y int) float64 {
		m := at(300).Weights(diff.Pair{Golden: c, Candidate: c})
		return m.W[(m.Bottom+m.Height-1-y)*m.Width+x-m.Left]
	}
	h, x := drawn(letterH), drawn(letterX)
	edge, stair, hair := weight(h, 1, 3), weight(x, 2, 2), weight(h, 5, 6)
	require.Greater(t, edge, stair)
	require.Greater(t, hair, edge)
}

func TestWeightsAreThoseOfTheSideThatWeighsMore(t *testing.T) {
	h := drawn(letterH)
	changed := box(h, 0, 0, 0, 2, 1) // its box stays what it was
	both := at(300).Weights(diff.Pair{Golden: h, Candidate: changed}).W
	one := at(300).Weights(diff.Pair{Golden: h, Candidate: h}).W
	other := at(300).Weights(diff.Pair{Golden: changed, Candidate: changed}).W
	require.Len(t, one, len(both))
	require.Len(t, other, len(both))
	require.NotEqual(t, one, other)
	for i := range both {
		require.Equal(t, max(one[i], other[i]), both[i])
	}
}
