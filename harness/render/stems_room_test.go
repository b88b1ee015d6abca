package render

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// declaredBar is a bar and how far along X the contours go that are drawn by it.
type declaredBar struct {
	lo, hi      float64
	left, right float64
}

func barOf(h *face.Hint, contours [][]point) declaredBar {
	b := declaredBar{unitsOf(h.Lo), unitsOf(h.Hi), math.Inf(1), math.Inf(-1)}
	for _, c := range contours {
		on := func(y float64) bool { return slices.ContainsFunc(c, func(p point) bool { return p.y == y }) }
		if on(b.lo) && on(b.hi) {
			for _, p := range c {
				b.left, b.right = min(b.left, p.x), max(b.right, p.x)
			}
		}
	}
	return b
}

// turned makes up of down, for what lies under a row.
func (b declaredBar) turned(up bool) declaredBar {
	if !up {
		b.lo, b.hi = -b.hi, -b.lo
	}
	return b
}

// crowded says that beyond a row lie declared bars, one after the other up to one that
// a zone holds, which have more pixels than there are rows: each as wide as it is in
// whole pixels, of four one less, and a pixel of white before each that is half a pixel
// or more away.
func (m *measuring) crowded(f *features, r *rowFeature, p *face.Private) bool {
	zones, below := m.s.bands[p], m.belowBlueScale(p)
	row := math.Round(zones[r.zone].flat * m.scale)
	rows := func(edge float64, top bool) float64 { // from the row to that of the zone that holds an edge
		for _, z := range holders(zones, top, edge) {
			if below || edge == zones[z].flat {
				return math.Abs(math.Round(zones[z].flat*m.scale) - row)
			}
		}
		return math.Inf(1)
	}
	var full func(edge, used, reach float64) bool
	full = func(edge, used, reach float64) bool {
		for _, declared := range f.bars {
			b := declared.turned(r.top)
			white := b.lo - edge
			if white < 0 || white > reach || r.x < b.left || r.x > b.right {
				continue
			}
			pixels := used + wholeAtLeast(b.hi-b.lo, snapsOf(p, glyph.AxisY), m.scale)
			if white*m.scale >= 0.5 {
				pixels++
			}
			if pixels > rows(b.hi*sign(r.top), r.top) || full(b.hi, pixels, math.Inf(1)) {
				return true
			}
		}
		return false
	}
	return full(r.y*sign(r.top), 0, r.clear+3)
}

// wholeAtLeast is a width in whole pixels, the lesser where it is nearly half-way, and
// one less of four: a solid stem gives one up for a counter.
func wholeAtLeast(units float64, snaps []float64, scale float64) float64 {
	px, sure := wholeWidth(units, snaps, scale)
	if !sure {
		px = int(max(1, math.Floor(units*scale)))
	}
	if px >= 4 {
		px--
	}
	return float64(px)
}

// The row of an x-height at 400 and that of an ascender at 560, at 25 pixels per em 10 and
// 14, with a crossbar between them: every place that the crossbar could have is tried.
func TestRowsAreCrowdedWhereNoPlacementKeepsEveryBarAndWhite(t *testing.T) {
	const scale = 0.025
	zones := []band{{true, 400, 410}, {true, 560, 570}}
	p := &face.Private{BlueScale: 0.04}
	for _, c := range []struct {
		why       string
		bar, last [2]int
		want      bool
	}{
		{"a bar of 1 px, white, the top bar of 1: they fit", [2]int{440, 480}, [2]int{520, 560}, false},
		{"a bar of 2 px does not", [2]int{425, 505}, [2]int{526, 560}, true},
		{"nor one of 1 under a top bar of 2", [2]int{430, 460}, [2]int{485, 560}, true},
		{"with no white to keep above it, it does", [2]int{440, 520}, [2]int{530, 560}, false},
	} {
		hints := []face.Hint{stem(glyph.AxisY, c.bar[0], c.bar[1]), stem(glyph.AxisY, c.last[0], c.last[1])}
		f := featuresOf(drawn(hints, [4]int{0, 0, 400, 400}, [4]int{0, c.bar[0], 400, c.bar[1]}, [4]int{0, c.last[0], 400, c.last[1]}), zones, 0)
		at := slices.IndexFunc(f.rows, func(r rowFeature) bool { return r.y == 400 })
		require.GreaterOrEqual(t, at, 0, c.why)
		m := &measuring{s: &subject{bands: map[*face.Private][]band{p: zones}}, scale: scale}
		require.Equal(t, c.want, m.crowded(f, &f.rows[at], p), c.why)

		width := func(b [2]int) int { return int(max(1, math.Round(float64(b[1]-b[0])*scale))) }
		white := func(lower, upper int) int {
			if float64(upper-lower)*scale >= 0.5 {
				return 1
			}
			return 0
		}
		placed := false
		for low := 8; low <= 16; low++ {
			under, over := low-10, 14-width(c.last)-(low+width(c.bar))
			placed = placed || under >= white(400, c.bar[0]) && over >= white(c.bar[1], c.last[0])
		}
		require.Equal(t, !c.want, placed, "all placements: %s", c.why)
	}
}
