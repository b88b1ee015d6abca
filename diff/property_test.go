package diff_test

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"
	"testing/quick"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// letter is a random glyph of stems, bars and specks, and a fault in it.
type letter struct {
	golden, candidate *glyph.Cell
}

// Generate draws up to 24 × 24 pixels and then flips some of them.
func (letter) Generate(r *rand.Rand, _ int) reflect.Value {
	w, h := 3+r.Intn(22), 3+r.Intn(22)
	g := &glyph.Cell{Advance: w, Bitmap: glyph.NewBitmap(r.Intn(5)-2, r.Intn(5)-2, w, h, 1)}
	for range 1 + r.Intn(5) {
		ink(g, r, uint8(1), 1+r.Intn(3), 1+r.Intn(h))
		ink(g, r, uint8(1), 1+r.Intn(w), 1+r.Intn(3))
	}
	c := copied(g)
	for range r.Intn(4) {
		ink(c, r, uint8(r.Intn(2)), 1+r.Intn(2), 1+r.Intn(h))
	}
	if r.Intn(3) == 0 {
		c.Advance += r.Intn(3) - 1
	}
	return reflect.ValueOf(letter{g, c})
}

func ink(c *glyph.Cell, r *rand.Rand, v uint8, w, h int) {
	x, y := c.Bitmap.Left+r.Intn(c.Bitmap.Width), c.Bitmap.Bottom+r.Intn(c.Bitmap.Height)
	for j := range h {
		for i := range w {
			c.Bitmap.Set(x+i, y+j, v)
		}
	}
}

func copied(c *glyph.Cell) *glyph.Cell {
	out := *c
	out.Bitmap.Words = append([]uint64(nil), c.Bitmap.Words...)
	return &out
}

func mirrored(c *glyph.Cell) *glyph.Cell {
	out := copied(c)
	b := &out.Bitmap
	b.Left = -c.Bitmap.Right()
	for y := b.Bottom; y < b.Top(); y++ {
		for x := b.Left; x < b.Right(); x++ {
			b.Set(x, y, c.Bitmap.At(-1-x, y))
		}
	}
	return out
}

// many are the same letters for each property, whichever tests run.
func many() *quick.Config {
	return &quick.Config{MaxCount: 400, Rand: rand.New(rand.NewSource(5))}
}

func TestScoreIsZeroExactlyWhenEqual(t *testing.T) {
	j := at(300)
	require.NoError(t, quick.Check(func(l letter) bool {
		equal := l.golden.Bitmap.Equal(&l.candidate.Bitmap) && l.golden.Advance == l.candidate.Advance
		r := compare(j, l.golden, l.candidate)
		return equal == (r.Score == 0) && equal == (len(r.Findings) == 0)
	}, many()))
}

func TestScoreIsTheSameFromEitherSide(t *testing.T) {
	j := at(300)
	require.NoError(t, quick.Check(func(l letter) bool {
		a, b := compare(j, l.golden, l.candidate), compare(j, l.candidate, l.golden)
		return near(a.Score, b.Score) && a.Lost == b.Gained && a.Gained == b.Lost
	}, many()))
}

func TestACommonShiftChangesNothing(t *testing.T) {
	j := at(300)
	require.NoError(t, quick.Check(func(l letter, dx, dy int8) bool {
		a := compare(j, l.golden, l.candidate)
		b := compare(j, moved(l.golden, int(dx), int(dy)), moved(l.candidate, int(dx), int(dy)))
		return near(a.Score, b.Score) && len(a.Findings) == len(b.Findings) && a.Worst() == b.Worst()
	}, many()))
}

func TestAMirrorImageWeighsTheSame(t *testing.T) {
	j := at(300)
	require.NoError(t, quick.Check(func(l letter) bool {
		a, b := compare(j, l.golden, l.candidate), compare(j, mirrored(l.golden), mirrored(l.candidate))
		return near(a.Score, b.Score)
	}, many()))
}

func TestAFaultWeighsLessAtAHigherResolution(t *testing.T) {
	require.NoError(t, quick.Check(func(l letter) bool {
		last := compare(at(203), l.golden, l.candidate)
		for _, dpi := range []int{300, 600, 970} {
			r := compare(at(dpi), l.golden, l.candidate)
			if r.Score >= last.Score && last.Score > 0 || r.Worst() > last.Worst() {
				return false
			}
			last = r
		}
		return true
	}, many()))
}

func TestMoreOfAFaultNeverWeighsLess(t *testing.T) {
	h, i := drawn(letterH), drawn(letterI)
	for _, c := range []struct {
		reason string
		fault  func(n int) (golden, candidate *glyph.Cell)
	}{
		{"a stem widened over more rows", func(n int) (*glyph.Cell, *glyph.Cell) { return h, box(h, 1, 10, 0, 11, n) }},
		{"a stem narrowed over more rows", func(n int) (*glyph.Cell, *glyph.Cell) { return h, box(h, 0, 0, 0, 1, n) }},
		{"a break that grows", func(n int) (*glyph.Cell, *glyph.Cell) { return i, box(i, 0, 3, 1, 5, min(10, n+1)) }},
		{"a bridge that thickens", func(n int) (*glyph.Cell, *glyph.Cell) { return h, box(h, 1, 2, 1, 8, 1+n/3) }},
	} {
		last := 0.0
		for n := range 13 {
			g, d := c.fault(n)
			r := compare(at(300), g, d)
			require.GreaterOrEqual(t, r.Score, last, "%s: %d", c.reason, n)
			last = r.Score
		}
		require.Greater(t, last, 0.0, c.reason)
	}
}

// The same in random glyphs: a line of ink lost or gained grows pixel by pixel,
// whatever its names become on the way. It may weigh less in one case alone:
// where it comes to part, join, fill or leave out less than it did, as a speck
// that grows until it touches the letter, and is a speck no more; what holds a
// letter together outweighs the pixels that do not.
func TestMoreOfAFaultNeverWeighsLessInRandomGlyphs(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	j, steps, renamed := at(300), 0, 0
	for range 1800 {
		g := letter{}.Generate(r, 0).Interface().(letter).golden
		c := copied(g)
		b, v := &c.Bitmap, uint8(r.Intn(2))
		x, y := b.Left+r.Intn(b.Width), b.Bottom+r.Intn(b.Height)
		dx := r.Intn(2)
		var last diff.Report
		for ; b.At(x, y) != v && x < b.Right() && y < b.Top(); x, y = x+dx, y+1-dx {
			b.Set(x, y, v)
			rep := compare(j, g, c)
			if within(shaping(last), shaping(rep)) {
				steps++
				if !slices.Equal(kinds(rep), kinds(last)) {
					renamed++
				}
				require.GreaterOrEqual(t, rep.Score, last.Score*(1-1e-9), "at (%d, %d): %v, then %v", x, y, last.Findings, rep.Findings)
			}
			last = rep
		}
	}
	require.Greater(t, steps, 2000)
	require.Greater(t, renamed, 200)
}

// shaping lists the findings that change what holds a letter together.
func shaping(r diff.Report) []diff.Kind {
	return slices.DeleteFunc(kinds(r), func(k diff.Kind) bool {
		switch k {
		case diff.Break, diff.Bridge, diff.CounterClosed, diff.StemLost, diff.BarLost, diff.Missing, diff.Extra:
			return false
		}
		return true
	})
}

// within says that each of some is one of others.
func within(some, others []diff.Kind) bool {
	others = slices.Clone(others)
	for _, k := range some {
		i := slices.Index(others, k)
		if i < 0 {
			return false
		}
		others = slices.Delete(others, i, i+1)
	}
	return true
}

func kinds(r diff.Report) []diff.Kind {
	var list []diff.Kind
	for _, f := range r.Findings {
		list = append(list, f.Kind)
	}
	slices.Sort(list)
	return list
}

func TestEachPixelIsCountedOnce(t *testing.T) {
	j := at(300)
	require.NoError(t, quick.Check(func(l letter) bool {
		r := compare(j, l.golden, l.candidate)
		sum := 0.0
		for _, f := range r.Findings {
			if f.Score <= 0 {
				return false // a finding without a pixel of its own
			}
			sum += f.Score
		}
		return near(sum, r.Score)
	}, many()))
}

// A device may have any size of cell and depth on either side.
func TestAnyPairIsJudged(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	for range 300 {
		var cells [2]*glyph.Cell
		for i := range cells {
			cells[i] = &glyph.Cell{Bitmap: glyph.NewBitmap(r.Intn(40)-20, r.Intn(40)-20, r.Intn(30), r.Intn(30), 1<<r.Intn(4))}
			for range r.Intn(200) {
				b := &cells[i].Bitmap
				b.Set(b.Left+r.Intn(b.Width+1), b.Bottom+r.Intn(b.Height+1), uint8(r.Intn(256)))
			}
		}
		rep := compare(at(300), cells[0], cells[1])
		require.Equal(t, len(rep.Findings) == 0, rep.Score == 0)
		m := at(300).Weights(diff.Pair{Golden: cells[0], Candidate: cells[1]})
		require.Len(t, m.W, m.Width*m.Height)
	}
}

func TestFullInkIsFullInkAtAnyDepth(t *testing.T) {
	a := drawn(letterH)
	for _, depth := range []int{2, 4, 8} {
		b := &glyph.Cell{Advance: a.Advance, Bitmap: glyph.NewBitmap(0, 0, a.Bitmap.Width, a.Bitmap.Height, depth)}
		for y := range a.Bitmap.Height {
			for x := range a.Bitmap.Width {
				b.Bitmap.Set(x, y, a.Bitmap.At(x, y)*b.Bitmap.Max())
			}
		}
		require.Zero(t, compare(at(300), a, b).Score)
		b.Bitmap.Set(2, 3, 1)
		r := compare(at(300), a, b)
		require.Greater(t, r.Score, 0.0)
		require.LessOrEqual(t, r.Worst(), diff.Minor, "a faint pixel beside a stem")
	}
}

func TestEqualCellsCostNoAllocation(t *testing.T) {
	g, j := drawn(letterH), at(300)
	c := copied(g)
	require.Zero(t, testing.AllocsPerRun(100, func() { compare(j, g, c) }))
}

func near(a, b float64) bool { return a-b <= 1e-9*(a+b) && b-a <= 1e-9*(a+b) }

func BenchmarkCompare(b *testing.B) {
	h, j := drawn(letterH), at(300)
	c := box(h, 1, 2, 0, 3, 12)
	b.Run("equal", func(b *testing.B) {
		for b.Loop() {
			compare(j, h, h)
		}
	})
	b.Run("stem wider", func(b *testing.B) {
		for b.Loop() {
			compare(j, h, c)
		}
	})
	b.Run("moved", func(b *testing.B) {
		for b.Loop() {
			compare(j, h, moved(h, 1, 0))
		}
	})
}
