package diff

import (
	"math/rand"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// speckled is a drawing of random ink within its margin.
func speckled(rnd *rand.Rand, w, h int) plane {
	p := plane{w: w + 2*margin, h: h + 2*margin}
	p.v = make([]uint8, p.w*p.h)
	share := rnd.Intn(100)
	for y := range h {
		for x := range w {
			if rnd.Intn(100) < share {
				p.v[(y+margin)*p.w+x+margin] = uint8(rnd.Intn(256))
			}
		}
	}
	return p
}

// flooded are the parts of a drawing by a flood from each pixel that none has reached:
// pixels in order, those of ink and those of white.
func flooded(p *plane) (ink, white [][]int) {
	seen := make([]bool, len(p.v))
	for i := range p.v {
		if seen[i] {
			continue
		}
		seen[i] = true
		reached := []int{i}
		for at := 0; at < len(reached); at++ {
			for j, n := range around(reached[at], p.w) {
				if (j < 4 || p.ink(i)) && n >= 0 && n < len(seen) && !seen[n] && p.ink(n) == p.ink(i) {
					seen[n] = true
					reached = append(reached, n)
				}
			}
		}
		slices.Sort(reached)
		if p.ink(i) {
			ink = append(ink, reached)
		} else {
			white = append(white, reached)
		}
	}
	return ink, white
}

func TestPartsAreThoseThatAFloodFinds(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var d desk
	check := func(list []part, want [][]int, w int) {
		require.Len(t, list, len(want))
		for i, q := range list {
			require.Equal(t, want[i], q.pixels)
			about := box{w, q.pixels[0] / w, 0, q.pixels[len(q.pixels)-1]/w + 1}
			for _, k := range q.pixels {
				about.x0, about.x1 = min(about.x0, k%w), max(about.x1, k%w+1)
			}
			require.Equal(t, about, q.box)
		}
	}
	for range 2000 {
		p := speckled(rnd, rnd.Intn(24), rnd.Intn(24))
		ink, white := flooded(&p)
		all := p.parts(&d, 0)
		check(all.ink, ink, p.w)
		check(all.white, white, p.w)
		require.Equal(t, shape{len(ink), len(white)}, p.shape(&d))
	}
}

// A row at a time gives each pixel the direction that it has by itself.
func TestTensorsOfARowAreThoseOfItsPixels(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	var d desk
	for range 200 {
		p := speckled(rnd, rnd.Intn(24), rnd.Intn(24))
		for y := range p.h {
			for x, near := range p.tensors(y, &d.columns, &d.tensors[0]) {
				theta, straight := p.direction(x, y)
				a, b := near.edge()
				require.Equal(t, [2]float64{theta, straight}, [2]float64{a, b}, "pixel %d, %d of %d × %d", x, y, p.w, p.h)
			}
		}
	}
}

func TestAPatchIsAsDeepAsTheLargestSquareInIt(t *testing.T) {
	for _, c := range []struct {
		why  string
		rows []string
		deep int
	}{
		{"nothing", nil, 0},
		{"a line is one pixel deep", []string{"####"}, 1},
		{"so is a slant", []string{"#...", ".#..", "..#."}, 1},
		{"a square", []string{"###", "###", "###"}, 3},
		{"without its last corner", []string{"###", "###", "##."}, 2},
		{"without its first corner", []string{".##", "###", "###"}, 2},
		{"with a hole", []string{"###", "#.#", "###"}, 1},
		{"steps", []string{"##..", "####", "..##"}, 2},
		{"a square in a larger patch", []string{"#...#", ".###.", ".###.", "####.", "#...#"}, 3},
	} {
		const w = 9
		var pixels []int
		for y, row := range c.rows {
			for x := range row {
				if row[x] == '#' {
					pixels = append(pixels, (y+1)*w+x+1)
				}
			}
		}
		slices.Reverse(pixels)
		require.Equal(t, c.deep, deepest(pixels, w), c.why)
	}
}

func TestAPartIsInPiecesWhereTwoLieOnIt(t *testing.T) {
	of := func(pixels ...int) part { return part{pixels: pixels} }
	for _, c := range []struct {
		reason     string
		one, other []part
		is         bool
	}{
		{"as it was", []part{of(1, 2, 3), of(6)}, []part{of(1, 2, 3), of(6)}, false},
		{"moved a little", []part{of(1, 2, 3), of(6)}, []part{of(2, 3, 4), of(6, 7)}, false},
		{"two on one", []part{of(1, 2, 3), of(6)}, []part{of(1), of(3), of(6)}, true},
		{"one on two", []part{of(1, 2, 3), of(6)}, []part{of(3, 4, 5, 6)}, false},
		{"one on nothing", []part{of(1, 2, 3)}, []part{of(1, 2), of(8)}, true},
	} {
		if got := inPieces(c.one, c.other, 9); got != c.is {
			t.Errorf("%s: %t", c.reason, got)
		}
	}
}
