package diff_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/raster"
)

// seed is a fault whose truth is known from how it was made: it is put in by
// column and row sums of the bitmap, not by what the judge believes.
type seed struct {
	name    string
	letters string
	put     func(c *glyph.Cell) *glyph.Cell // nil where the letter gives no place for it
	grave   bool
	names   []diff.Kind // the right names
}

var seeds = []seed{
	{"stem wider", "HIlhnuLTEFDbdpq", func(c *glyph.Cell) *glyph.Cell { return stemSide(c, 1) }, true, []diff.Kind{diff.StemWeight, diff.StemUneven}},
	{"stem narrower", "HIlhnuLTEFDbdpq", func(c *glyph.Cell) *glyph.Cell { return stemSide(c, 0) }, true, []diff.Kind{diff.StemWeight, diff.StemUneven}},
	{"bar lost", "He", barLost, true, []diff.Kind{diff.BarLost}},
	{"stem broken", "IlHhLT", stemBroken, true, []diff.Kind{diff.Break}},
	{"counter filled", "oOeDdbpq", counterFilled, true, []diff.Kind{diff.CounterClosed}},
	{"stair moved", "vwxyVWXkA", stairMoved, false, []diff.Kind{diff.Diagonal, diff.Edge, diff.Round}},
	{"stair lost", "vwxyVWXkA", stairLost, false, []diff.Kind{diff.Diagonal, diff.Edge, diff.Round}},
	{"curve pixel", "oOcesCGSQ", stairMoved, false, []diff.Kind{diff.Diagonal, diff.Edge, diff.Round}},
}

// TestJudgementOfSeededFaults prints how many faults are found, and named right.
func TestJudgementOfSeededFaults(t *testing.T) {
	if os.Getenv("SMOKEPROOF_JUDGE") != "1" {
		t.Skip("set SMOKEPROOF_JUDGE=1 to measure the judge on seeded faults")
	}
	j := at(300)
	for _, s := range seeds {
		n, grave, named := 0, 0, 0
		var odd []string
		for _, font := range []string{"dejavu/DejaVuSerif.ttf", "dejavu/DejaVuSans.ttf", "ttf-bitstream-vera/Vera.ttf"} {
			for size := 6; size <= 12; size++ {
				for _, g := range drawLetters(t, "/usr/share/fonts/truetype/"+font, size, s.letters) {
					c := s.put(&g)
					if c == nil || c.Bitmap.Equal(&g.Bitmap) {
						continue
					}
					n++
					r := compare(j, &g, c)
					right := false
					for _, k := range s.names {
						right = right || r.Findings[0].Kind == k
					}
					if right {
						named++
					}
					if r.Worst() >= diff.Major {
						grave++
					}
					if (r.Worst() >= diff.Major) != s.grave || !right {
						odd = append(odd, fmt.Sprintf("%s %d %c: %s %s", font, size, g.Code, r.Findings[0].Severity, r.Findings[0].Kind))
					}
				}
			}
		}
		t.Logf("%-15s %4d seeded, %4d major or critical, %4d named right", s.name, n, grave, named)
		t.Log(odd[:min(len(odd), 14)])
		require.Positive(t, n)
		if s.grave {
			require.GreaterOrEqual(t, float64(grave)/float64(n), 0.99, s.name)
			require.GreaterOrEqual(t, float64(named)/float64(n), 0.95, s.name)
		} else {
			require.LessOrEqual(t, float64(grave)/float64(n), 0.01, s.name)
		}
	}
}

// drawLetters draws without hints: uneven stems are the harder ground.
func drawLetters(t *testing.T, font string, size int, letters string) []glyph.Cell {
	t.Helper()
	if _, err := os.Stat(font); err != nil {
		require.NotEqual(t, "true", os.Getenv("CI"), "font %s is missing", font)
		t.Skip("font is missing: " + font)
	}
	f, err := face.Open(font, 0)
	require.NoError(t, err)
	var out []glyph.Cell
	var pen raster.Rasterizer
	ppem := glyph.PixelsPerEm(glyph.Pt(size), glyph.Dots(300))
	for _, ref := range f.Refs() {
		if ref.Code == glyph.NoCode || !strings.ContainsRune(letters, ref.Code) {
			continue
		}
		d, err := f.Design(ref.Index)
		require.NoError(t, err)
		o := d.Scaled(ppem)
		b, err := pen.Bilevel(&o, glyph.Center, glyph.DropoutType1)
		require.NoError(t, err)
		out = append(out, glyph.Cell{Ref: ref, Bitmap: b, Advance: b.Right() + 1})
	}
	return out
}

// stem gives the columns of the first stem: those with ink in 0.6 of the rows.
func stem(c *glyph.Cell) (x0, x1 int) {
	b := &c.Bitmap
	for x := b.Left; x <= b.Right(); x++ {
		n := 0
		for y := b.Bottom; y < b.Top(); y++ {
			n += int(b.At(x, y))
		}
		full := float64(n) >= 0.6*float64(b.Height)
		switch {
		case full && x1 == 0:
			x0, x1 = x, x+1
		case full && x == x1:
			x1++
		}
	}
	return x0, x1
}

// stemSide sets the pixels beside a stem, or clears its edge, over its length.
func stemSide(c *glyph.Cell, v uint8) *glyph.Cell {
	x0, x1 := stem(c)
	if x1-x0 < 2 {
		return nil
	}
	x := x0 - 1 + int(1-v)
	out := box(c, 0, x0-1, 0, x0-1, 0)
	for y := c.Bitmap.Bottom; y < c.Bitmap.Top(); y++ {
		if c.Bitmap.At(x0, y) != 0 && c.Bitmap.At(x0-1, y) == 0 { // not through a serif or a join
			out.Bitmap.Set(x, y, v)
		}
	}
	return out
}

// barLost clears the rows of the crossbar between the stems.
func barLost(c *glyph.Cell) *glyph.Cell {
	b := &c.Bitmap
	mid := (b.Left + b.Right()) / 2
	for y := b.Bottom + b.Height/4; y < b.Top()-b.Height/4; y++ {
		if b.At(mid, y) == 0 {
			continue
		}
		x0, x1 := mid, mid
		for b.At(x0-1, y-1)|b.At(x0-1, y+3) == 0 && x0 > b.Left {
			x0--
		}
		for b.At(x1, y+3) == 0 && x1 < b.Right() {
			x1++
		}
		y1 := y
		for b.At(mid, y1) != 0 {
			y1++
		}
		return box(c, 0, x0, y, x1, y1)
	}
	return nil
}

func stemBroken(c *glyph.Cell) *glyph.Cell {
	x0, x1 := stem(c)
	if x1 == x0 {
		return nil
	}
	y := c.Bitmap.Bottom + c.Bitmap.Height/4
	for c.Bitmap.At(x0-1, y)|c.Bitmap.At(x1, y) != 0 {
		y++
	}
	return box(c, 0, x0-1, y, x1+1, y+2)
}

// counterFilled floods the white at the middle of the highest counter.
func counterFilled(c *glyph.Cell) *glyph.Cell {
	b := &c.Bitmap
	out := copied(c)
	x := (b.Left + b.Right()) / 2
	y := b.Top() - 1
	for y > b.Bottom && b.At(x, y) == 0 {
		y--
	}
	for y > b.Bottom && b.At(x, y) != 0 {
		y--
	}
	for todo := [][2]int{{x, y}}; len(todo) > 0; {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if p[0] < b.Left || p[0] >= b.Right() || p[1] < b.Bottom || p[1] >= b.Top() {
			return nil // not a counter
		}
		if out.Bitmap.At(p[0], p[1]) == 0 {
			out.Bitmap.Set(p[0], p[1], 1)
			todo = append(todo, [2]int{p[0] + 1, p[1]}, [2]int{p[0] - 1, p[1]}, [2]int{p[0], p[1] + 1}, [2]int{p[0], p[1] - 1})
		}
	}
	return out
}

// stairMoved adds one pixel in the inner corner of a stair, as a diagonal has
// it when it falls a hair aside.
func stairMoved(c *glyph.Cell) *glyph.Cell {
	b := &c.Bitmap
	y := b.Bottom + b.Height/2
	for x := b.Left; x < b.Right(); x++ {
		if b.At(x, y) == 0 && b.At(x+1, y) != 0 && b.At(x, y+1) != 0 && b.At(x, y-1) == 0 {
			return box(c, 1, x, y, x+1, y+1)
		}
	}
	return nil
}

// stairLost takes one pixel from the outer corner of a stair three pixels thick or more.
func stairLost(c *glyph.Cell) *glyph.Cell {
	b := &c.Bitmap
	y := b.Bottom + b.Height/3
	for x := b.Left; x < b.Right(); x++ {
		if b.At(x, y) != 0 && b.At(x-1, y) == 0 && b.At(x, y+1) == 0 && b.At(x+1, y) != 0 && b.At(x+2, y) != 0 && b.At(x+1, y+1) != 0 {
			return box(c, 0, x, y, x+1, y+1)
		}
	}
	return nil
}
