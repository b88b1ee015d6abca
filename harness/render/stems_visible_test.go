package render

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// whiteAt finds how much white there is beyond a row at a place: none where other
// ink begins on the row itself.
func (r *rowFeature) whiteAt(flat [][]point, x float64) float64 {
	at := x + 1.0/128 // beside any point of the outline
	white, here := math.Inf(1), 0
	for _, c := range flat {
		for i, p := range c {
			q := c[(i+1)%len(c)]
			if (p.x < at) == (q.x < at) {
				continue
			}
			switch beyond := (p.y + (q.y-p.y)*(at-p.x)/(q.x-p.x) - r.y) * sign(r.top); {
			case beyond > 1:
				white = min(white, beyond)
			case beyond >= -1:
				here++
			}
		}
	}
	if here > 1 {
		return 0
	}
	return white
}

// pixelWide is a pixel at 8 pt and 203 dpi, in thousandths of the em.
const pixelWide = 44.3

// open says that no other ink comes within half a pixel of a row where it is measured: as
// far to either side as fitting may move it, of a flat no further than it is level. What a
// round's own contour does moves with it, and matters in the pixel about its extreme alone.
func (r *rowFeature) open(flat [][]point, scale float64) bool {
	beyond := func(from, to float64) area {
		d := sign(r.top)
		return areaOf(from, to, r.y+d, r.y+d*0.5/scale)
	}
	pixel := 1 / scale
	if !r.round {
		lo, hi := min(r.from.x, r.to.x), max(r.from.x, r.to.x)
		return !beyond(max(r.x-pixel, lo), min(r.x+pixel, hi)).inked(flat)
	}
	aside := beyond(r.x-pixel, r.x+pixel)
	return !beyond(r.x-pixel/2, r.x+pixel/2).inked(flat) && !slices.ContainsFunc(flat, func(c []point) bool {
		return &c[0] != &r.contour[0] && aside.crossed(c)
	})
}

// middle is where a round shows: in the middle of its ink half a pixel down, where the
// centres of a row of pixels are. The foot of a slanted stroke has its extreme at one end of that.
func (r *rowFeature) middle(scale float64) float64 {
	lo, hi := r.ends(0.5 / scale)
	return (lo + hi) / 2
}

// whiteBeside is the least of the white at some places beside one.
func (r *rowFeature) whiteBeside(flat [][]point, x float64, asides ...float64) float64 {
	white := math.Inf(1)
	for _, aside := range asides {
		white = min(white, r.whiteAt(flat, x+aside))
	}
	return white
}

// clearest puts the column at which a flat is measured where there is the most
// white beyond it as far as a pixel may reach to either side, the middle where
// that is as good as any.
func (r *rowFeature) clearest(flat [][]point) {
	best := rowFeature{clear: -1}
	off := max(0, min(r.reach/2, r.reach-pixelWide*clearOfEnds))
	for _, aside := range []float64{0, -off, off} {
		here := *r
		here.x += aside
		here.clear = here.whiteBeside(flat, here.x, -pixelWide/2, -pixelWide/4, 0, pixelWide/4, pixelWide/2)
		if here.clear > best.clear {
			best = here
		}
	}
	*r = best
}

// ends are how far ink goes to either side at a depth from a flat or a round, or where its
// outline turns back before that, as beside the beak of an s. A tip narrower than a pixel
// half a pixel down is dropout control's to keep or to leave out, and a flat on a slanted
// stroke ends sooner there than on its edge.
func (r *rowFeature) ends(depth float64) (lo, hi float64) {
	n := len(r.contour)
	flank := func(from point, step int) float64 {
		at := slices.IndexFunc(r.contour, func(p point) bool { return p.x == from.x && p.y == from.y })
		deep := 0.0
		for k := range n {
			to := r.contour[(at+(k+1)*step+n*n)%n]
			deeper := (r.y - to.y) * sign(r.top)
			switch {
			case deeper < deep:
				return from.x
			case deeper >= depth:
				return from.x + (to.x-from.x)*(depth-deep)/(deeper-deep)
			}
			from, deep = to, deeper
		}
		return from.x
	}
	a, b := flank(r.from, -1), flank(r.to, 1)
	return min(a, b), max(a, b)
}

// shows says that a row can be seen at the feature's place: half a pixel down ink goes on
// as far as fitting may move its ends, or is a pixel wide, of a round.
func (r *rowFeature) shows(scale float64) bool {
	lo, hi := r.ends(0.5 / scale)
	if r.round {
		return (hi-lo)*scale >= 1
	}
	return min(r.x-lo, hi-r.x)*scale >= clearOfEnds
}

// A flat of 200 units whose middle a comma touches: the half beside it is measured;
// under a second box that touches all of it there is no edge to see.
func TestAFlatIsMeasuredWhereNoOtherInkTouchesIt(t *testing.T) {
	zones := []band{{true, 400, 410, 0}}
	at := func(others ...[4]int) rowFeature {
		f := featuresOf(drawn(nil, append([][4]int{{0, 0, 200, 400}}, others...)...), zones, 0)
		require.NotEmpty(t, f.rows)
		return f.rows[0]
	}
	require.InDelta(t, 100, at().x, 1)
	require.True(t, math.IsInf(at().clear, 1))
	aside := at([4]int{100, 405, 200, 600})
	require.Less(t, aside.x, 79.0)
	require.True(t, math.IsInf(aside.clear, 1))
	require.InDelta(t, 5, at([4]int{-50, 405, 250, 600}).clear, 0.1)
}

// At 20 pixels per em a unit is 0.02 px; a flat of 200 units is 4 px, its middle 2 px from
// its ends.
func TestAFlatIsMeasuredByTheInkHalfAPixelDown(t *testing.T) {
	for _, c := range []struct {
		why   string
		foot  [2]int // of the two sides, 100 units down
		shows bool
	}{
		{"upright sides", [2]int{0, 200}, true},
		{"sides that spread", [2]int{-100, 300}, true},
		{"a slanted stroke, whose sides are 0.25 px aside half a pixel down", [2]int{100, 300}, true},
		{"more slanted, by 0.75 px", [2]int{300, 500}, false},
		{"a point, whose sides close in by 0.75 px", [2]int{150, 50}, false},
	} {
		d := &face.Drawing{}
		for _, p := range [][2]int{{c.foot[0], 300}, {c.foot[1], 300}, {200, 400}, {0, 400}} {
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1])})
		}
		d.Outline.Ends = []int{3}
		f := featuresOf(d, []band{{true, 400, 410, 0}}, 0)
		require.Len(t, f.rows, 1, c.why)
		require.Equal(t, c.shows, f.rows[0].shows(tiny), c.why)
	}
}

// spline draws a contour of points; those with a third number that is not 0 are control points.
func spline(points ...[3]int) *face.Drawing {
	d := &face.Drawing{}
	for _, p := range points {
		at := glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1])}
		if p[2] != 0 {
			at.Kind = glyph.Cubic
		}
		d.Outline.Points = append(d.Outline.Points, at)
	}
	d.Outline.Ends = []int{len(points) - 1}
	return d
}

// The ball of a comma, 100 units wide, with a tail of 20 units at its right side: a pixel is
// 60 units. Then the tail is drawn apart, as other ink.
func TestARoundIsMeasuredWhereNoOtherInkIsNearIt(t *testing.T) {
	zones := []band{{false, 0, -16, 0}}
	tailed := func(from int) *features {
		return featuresOf(spline([3]int{50, 0, 0}, [3]int{from, 0, 1}, [3]int{from, 5, 1}, [3]int{from, 10, 0},
			[3]int{from, -100, 0}, [3]int{from + 20, -100, 0}, [3]int{from + 20, 50, 0},
			[3]int{from + 20, 80, 1}, [3]int{80, 100, 1}, [3]int{50, 100, 0}, [3]int{20, 100, 1}, [3]int{0, 80, 1}, [3]int{0, 50, 0},
			[3]int{0, 20, 1}, [3]int{20, 0, 1}), zones, 0)
	}
	apart := func(x int) *features {
		d := spline([3]int{50, 0, 0}, [3]int{80, 0, 1}, [3]int{100, 20, 1}, [3]int{100, 50, 0}, [3]int{100, 80, 1}, [3]int{80, 100, 1}, [3]int{50, 100, 0},
			[3]int{20, 100, 1}, [3]int{0, 80, 1}, [3]int{0, 50, 0}, [3]int{0, 20, 1}, [3]int{20, 0, 1})
		o := drawn(nil, [4]int{x, -100, x + 20, -20}).Outline
		d.Outline.Points, d.Outline.Ends = append(d.Outline.Points, o.Points...), append(d.Outline.Ends, d.Outline.Ends[0]+4)
		return featuresOf(d, zones, 0)
	}
	for _, c := range []struct {
		why  string
		f    *features
		want bool
	}{
		{"a tail half a pixel from the bottom of its ball", tailed(75), false},
		{"further off, as it moves with its ball", tailed(90), true},
		{"other ink a pixel from it", apart(105), false},
		{"further off", apart(115), true},
	} {
		require.Len(t, c.f.rows, 1, c.why)
		require.Equal(t, c.want, c.f.rows[0].open(c.f.flat, 1.0/60), c.why)
	}
}

// The foot of a stroke that leans by 45 degrees: its extreme is at its left end, and half a
// pixel up it is 100 units wide.
func TestARoundShowsInTheMiddleOfItsInkHalfAPixelDown(t *testing.T) {
	f := featuresOf(spline([3]int{10, 0, 0}, [3]int{20, 0, 1}, [3]int{80, 0, 1}, [3]int{100, 20, 0}, [3]int{300, 220, 0}, [3]int{200, 220, 0},
		[3]int{0, 20, 0}, [3]int{0, 10, 1}, [3]int{0, 0, 1}), []band{{false, 0, -10, 0}}, 0)
	require.Len(t, f.rows, 1)
	require.EqualValues(t, 10, f.rows[0].x)
	require.InDelta(t, 55, f.rows[0].middle(0.02), 1)
}
