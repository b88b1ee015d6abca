package diff

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestAnEdgeIsSeenAlikeWhetherItIsRememberedOrNot(t *testing.T) {
	e := newEye(Viewing{DPI: glyph.Dots(203), DistanceMM: 400})
	var table edgeTable
	places := map[uint64]tensor{}
	shared := 0
	for range 200_000 { // of which many are met again, and many share a place
		is := tensor{rand.IntN(50) * 255 * 255, rand.IntN(50) * 255 * 255, (rand.IntN(99) - 49) * 255 * 255}
		want := e.diagonal
		if is != (tensor{}) {
			theta, straight := is.edge()
			want = e.sensitivity(theta) + coherentGain*axial(theta)*straight
		}
		at := is.hash() >> (64 - edgeBits)
		if had, ok := places[at]; ok && had != is {
			shared++
		}
		places[at] = is
		require.Equal(t, want, table.sensitivity(&e, is), "%+v", is)
	}
	require.Equal(t, e.diagonal, table.sensitivity(&e, tensor{}), "all is of one colour")
	require.Positive(t, shared)
}
