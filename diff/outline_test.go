package diff

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAChangeIsCalledAfterTheNearestPieceOfOutline(t *testing.T) {
	round := segment{0, 0, 0, 10, Round}
	slant := segment{1, 0, 1, 10, Diagonal}
	for _, c := range []struct {
		why      string
		segments []segment
		x, y     float64
		kind     Kind
		found    bool
	}{
		{"the first is nearer", []segment{round, slant}, 0.2, 5, Round, true},
		{"the last is nearer", []segment{round, slant}, 0.8, 5, Diagonal, true},
		{"nearness counts to the end of a piece, not to its line", []segment{round, {1, 11, 1, 20, Diagonal}}, 0.8, 9, Round, true},
		{"further than hints carry an outline", []segment{round}, 0.1 + strayPx, 5, Edge, false},
	} {
		kind, found := (&outline{segments: c.segments}).beside(c.x, c.y)
		require.Equal(t, c.kind, kind, c.why)
		require.Equal(t, c.found, found, c.why)
	}
}
