package raster

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Quotients that are whole, or fall just short of it, are where rounding would show: by the
// largest divisors and dividends that a curve can have, and by random ones.
func TestDivideIsIntegerDivision(t *testing.T) {
	const seed = 7
	rng := rand.New(rand.NewPCG(seed, seed))
	for i := range 100_000 {
		b := 1 + rng.IntN(1<<(1+i%29))
		q := rng.IntN(min(1<<30, (1<<53-1)/b))
		if i%2 == 0 {
			q = (1<<53-1)/b - i%5
		}
		for _, a := range []int{q*b - 1, q * b, q*b + 1} {
			if a >= 1<<53 {
				continue
			}
			require.Equal(t, a/b, divide(a, b), "%d / %d", a, b)
			require.Equal(t, -a/b, divide(-a, b), "%d / %d", -a, b)
		}
	}
}
