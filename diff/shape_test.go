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

// shape and flood count the same parts, in two ways.
func TestShapeCountsThePartsThatAFloodFinds(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var d desk
	for range 2000 {
		p := speckled(rnd, rnd.Intn(24), rnd.Intn(24))
		var flooded shape
		p.flood(&d, func(ink bool, _ []int) {
			if ink {
				flooded.ink++
			} else {
				flooded.white++
			}
		})
		require.Equal(t, flooded, p.shape(&d))
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
