package raster

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Few edges mostly take turns, many do not; rows that wind the other way, and begin inside, are among them.
func TestInsideIsWhereTheWindingNumberIsNotZero(t *testing.T) {
	const seed, rounds = 13, 100_000
	rng := rand.New(rand.NewPCG(seed, seed))
	for range rounds {
		var y tally
		most := 1 + rng.IntN(12)
		for range rng.IntN(most) {
			y.cross(rng.IntN(64), rng.IntN(2) == 0)
		}
		from := rng.IntN(5) - 2
		want, winding := uint64(0), from
		for pixel := range 64 {
			bit := uint64(1) << 63 >> pixel
			if y.up&bit != 0 {
				winding++
			}
			if y.down&bit != 0 {
				winding--
			}
			if winding != 0 {
				want |= bit
			}
		}
		in, after := y.inside(from)
		require.Equal(t, want, in, "climbing %064b, falling %064b, from %d", y.up, y.down, from)
		require.Equal(t, winding, after)
	}
}
