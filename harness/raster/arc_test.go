package raster

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Arcs of all sizes, flat ones and upright ones among them, that begin, end or do neither on a scan line:
// what is found together must be what meetOne finds, and nothing but what was asked for is touched.
func TestCurvesAreMetTogetherAsOneByOne(t *testing.T) {
	const seed, rounds, arcs = 11, 4000, 9
	const untouched = -1 << 31
	rng := rand.New(rand.NewPCG(seed, seed))
	for _, p := range []precision{coarse, fine} {
		var m meets
		for range rounds {
			m.arcs = m.arcs[:0]
			at := 0
			for range arcs {
				a, c, b := climbs(rng, p.one)
				e := p.ceil(a.y())
				if e == a.y() {
					e += p.one
				}
				if n := (p.floor(b.y())-e)/p.one + 1; n > 0 {
					m.split(&p, a, c, b, e, at, n)
					at += n + 1
				}
			}
			want := make([]int32, at+8)
			for i := range want {
				want[i], m.xs[i] = untouched, untouched
			}
			for _, q := range m.arcs {
				for k := range int(q.n) {
					want[int(q.at)+k] = meetOne(q.a, q.c, q.b, q.e+k*p.one, p.flat)
				}
			}
			m.find(&cutter{precision: p})
			require.Equal(t, want, m.xs[:len(want)])
		}
	}
}

// climbs gives a curve that climbs, and goes to the left or to the right, near the origin or as far from it as
// a bitmap may reach.
func climbs(rng *rand.Rand, one int) (a, c, b point) {
	size := one << rng.IntN(8)
	from := vec{rng.IntN(size) - size/2, rng.IntN(size) - size/2}
	dx, dy := rng.IntN(size), rng.IntN(size)
	mid, to := vec{from.x + rng.IntN(dx+1), from.y + rng.IntN(dy+1)}, vec{from.x + dx, from.y + dy}
	if rng.IntN(4) == 0 {
		to.y &^= one - 1
		mid.y, from.y = min(mid.y, to.y), min(from.y, to.y)
	}
	if rng.IntN(2) == 0 {
		from.x, mid.x, to.x = -from.x, -mid.x, -to.x
	}
	far := vec{}
	if rng.IntN(2) == 0 {
		far = vec{(rng.IntN(2*maxReach) - maxReach) * one, (rng.IntN(2*maxReach) - maxReach) * one}
	}
	return from.plus(far).point(), mid.plus(far).point(), to.plus(far).point()
}

// Teeth that cross more lines than FreeType's pool holds: nothing is put on the sheet, and what comes
// after them is drawn as ever.
func TestMoreCrossingsThanThePoolHolds(t *testing.T) {
	teeth := func(n int) *glyph.Outline {
		var p polygon
		for i := range fixed.Int26_6(n) {
			p = append(p, 64*i, 0, 64*i+20, 6400)
		}
		right := fixed.I(n)
		return contours(append(p, right, 0, right, -64, 0, -64))
	}
	var r, ordered Rasterizer
	for _, n := range []int{3, 9, 10, 11, 12, 40, 3} {
		want := ordered.drawnInOrder(t, teeth(n), glyph.DropoutSmart)
		got, err := r.Bilevel(teeth(n), glyph.Center, glyph.DropoutSmart)
		require.NoError(t, err)
		require.True(t, got.Equal(&want), "%d teeth", n)
		require.Equal(t, n < 10, r.sweep.by.fit(), "%d teeth", n)
	}
}

// A contour beside such teeth is not put on a sheet either, so nothing of it may be remembered.
func TestAContourBesideTooManyCrossingsIsNotLearned(t *testing.T) {
	var teeth polygon
	for i := range fixed.Int26_6(40) {
		teeth = append(teeth, 64*i, 0, 64*i+20, 6400)
	}
	box := upright(0, -640, 640, -320)
	both, alone := contours(append(teeth, fixed.I(40), 0), box), contours(box)
	both.Recurs, alone.Recurs = []int32{0, 1}, []int32{1}
	var r Rasterizer
	_, err := r.Bilevel(both, glyph.Center, glyph.DropoutSmart)
	require.NoError(t, err)
	for range 2 {
		b, err := r.Bilevel(alone, glyph.Center, glyph.DropoutSmart)
		require.NoError(t, err)
		require.Equal(t, 50, b.Ink())
	}
}
