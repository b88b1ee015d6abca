package stems

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// nonsense makes a dictionary and a drawing out of bytes, with indices in and
// out of range and coordinates of every size.
type nonsense []byte

func (n *nonsense) byte() byte {
	if len(*n) == 0 {
		return 0
	}
	b := (*n)[0]
	*n = (*n)[1:]
	return b
}

// length is mostly some hundreds of font units, now and then any 32 bits.
func (n *nonsense) length() fixed.Int26_6 {
	b := n.byte()
	if b == 255 {
		return fixed.Int26_6(binary.BigEndian.Uint32([]byte{n.byte(), n.byte(), n.byte(), n.byte()}))
	}
	return fixed.Int26_6(int(b)-64)*256 + fixed.Int26_6(n.byte())
}

func (n *nonsense) lengths() (all []float64) {
	for range n.byte() % 16 {
		v := float64(n.length()) / 64
		if n.byte() == 255 {
			v = math.NaN()
		}
		all = append(all, v)
	}
	return all
}

func (n *nonsense) indices() (all []int) {
	for range n.byte() % 8 {
		all = append(all, int(n.byte()%20)-2)
	}
	return all
}

func (n *nonsense) drawing() *face.Drawing {
	d := &face.Drawing{}
	for range n.byte() % 16 {
		d.Hints = append(d.Hints, face.Hint{Axis: glyph.Axis(n.byte() % 2), Lo: n.length(), Hi: n.length(), Ghost: face.Ghost(n.byte() % 3)})
	}
	for range n.byte() % 40 {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: n.length(), Y: n.length(), Kind: glyph.Kind(n.byte() % 3)})
	}
	for range n.byte() % 6 {
		d.Outline.Ends = append(d.Outline.Ends, int(n.byte()%50)-2)
	}
	for range n.byte() % 6 {
		d.Spans = append(d.Spans, face.Span{Point: int(n.byte()%50) - 2, Hints: n.indices()})
	}
	for range n.byte() % 4 {
		d.Counters = append(d.Counters, n.indices())
	}
	for range n.byte() % 4 {
		d.Flexes = append(d.Flexes, face.Flex{First: int(n.byte()%50) - 2, Axis: glyph.Axis(n.byte() % 2), Depth: n.length()})
	}
	return d
}

// FuzzFit holds the fitter to what must be true whatever a font holds: a point
// for a point, fitted edges on whole pixels, no stem under a pixel unless a zone
// takes both of its edges, courses that never turn back, and the same outcome twice.
func FuzzFit(f *testing.F) {
	f.Add([]byte("a stem, a zone, a point"), uint16(22*64), false)
	f.Add([]byte{4, 70, 0, 80, 0, 3, 90, 1, 95, 2}, uint16(33*64+21), true)
	f.Fuzz(func(t *testing.T, data []byte, ppem uint16, sideways bool) {
		n := nonsense(data)
		p := &face.Private{
			BlueValues: n.lengths(), OtherBlues: n.lengths(), FamilyBlues: n.lengths(), StemSnapV: n.lengths(), StemSnapH: n.lengths(),
			BlueScale: float64(n.byte()) / 2000, BlueShift: float64(n.byte()), BlueFuzz: float64(n.byte() % 4),
			StdVW: float64(n.byte()), StdHW: float64(n.byte()), ForceBold: n.byte()%2 == 0,
		}
		d := n.drawing()
		size := Size{glyph.PPEM{X: fixed.Int26_6(ppem) + 1, Y: fixed.Int26_6(ppem)/2 + 1}, 1000}
		fit := New(p, size, Options{Sideways: sideways})
		first := append([]glyph.Point(nil), fit.Fit(d).Points...)
		require.Len(t, first, len(d.Outline.Points))
		for _, s := range fit.Choices().Stems {
			require.Zero(t, s.GivenLo%pixel)
			require.Zero(t, s.GivenHi%pixel)
			if s.Ghost == face.NoGhost && s.By != ByZones {
				require.GreaterOrEqual(t, s.GivenHi-s.GivenLo, pixel)
			}
		}
		for _, c := range []*course{&fit.courseX, &fit.courseY} {
			for i := 1; i < len(c.edges); i++ {
				require.Less(t, c.edges[i-1].from, c.edges[i].from)
				require.LessOrEqual(t, c.edges[i-1].to, c.edges[i].to)
			}
		}
		require.Equal(t, first, append([]glyph.Point(nil), fit.Fit(d).Points...))
	})
}
