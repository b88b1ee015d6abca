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

// barrier is why a property cannot hold somewhere. It is found in the drawing, the
// declarations and the size, never in what a renderer made of them.
type barrier int

const (
	inkOnTheRow barrier = iota // other ink touches a row or comes nearer than half a pixel
	twoZones                   // zones overlap, and ask for two rows
	zeroWidth                  // a declared stem has both edges in one place
	oddAndEven                 // stems of odd and of even width share the axis of the glyph
	crowded                    // stems have no places in whole pixels near their own
	barriers
)

var barrierNames = [barriers]string{
	"rows that other ink touches, so that there is no edge to see",
	"edges in two zones at once, which ask for two rows",
	"declared stems of zero width",
	"mirrored glyphs with stems of odd and of even width on one axis",
	"stems in force together that, in whole pixels, in order and with their counters open, cannot all be within a pixel of their places",
}

// contested says that the zones which hold an edge ask for different rows.
func contested(holders []int, zones []band, scale float64) bool {
	for _, z := range holders {
		if math.Round(zones[z].flat*scale) != math.Round(zones[holders[0]].flat*scale) {
			return true
		}
	}
	return false
}

// oddAndEven says that declared stems on the axis of the glyph are, rounded to
// whole pixels, of odd and of even width: the one is mirrored about the middle of
// a pixel, the other about the edge of one.
func (f *features) oddAndEven(p *face.Private, scale float64) bool {
	var odd, even bool
	for i := range f.stems {
		s := &f.stems[i]
		if s.axis != glyph.AxisX || s.lo+s.hi != f.axis {
			continue
		}
		if px, sure := wholeWidth(s.hi-s.lo, snapsOf(p, s.axis), scale); sure {
			odd, even = odd || px%2 == 1, even || px%2 == 0
		}
	}
	return odd && even
}

// wholeWidth is a stem's width in whole pixels, at least one, going by its own
// width or by the StemSnap value it has; not sure where it is nearly half-way.
func wholeWidth(units float64, snaps []float64, scale float64) (px int, sure bool) {
	at := slices.IndexFunc(snaps, func(v float64) bool { return math.Abs(v-units) <= 0.5 })
	if at >= 0 {
		units = snaps[at]
	}
	w := units * scale
	const nearly = 1.0 / 8
	return int(max(1, math.Round(w))), math.Abs(w-math.Floor(w)-0.5) > nearly || w < 1
}

func stem(axis glyph.Axis, lo, hi int) face.Hint {
	return face.Hint{Axis: axis, Lo: fixed.I(lo), Hi: fixed.I(hi)}
}

// drawn draws rectangles, x0 y0 x1 y1 in font units, counter-clockwise.
func drawn(hints []face.Hint, rects ...[4]int) *face.Drawing {
	d := &face.Drawing{Hints: hints}
	for _, r := range rects {
		for _, p := range [4][2]int{{r[0], r[1]}, {r[2], r[1]}, {r[2], r[3]}, {r[0], r[3]}} {
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1])})
		}
		d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	}
	return d
}

// At 20 pixels per em a unit is 0.02 px.
const tiny = 0.02

// A dot 150 units wide (3 px) over a stem of 100 (2 px), both about x = 275: the one
// is mirrored about the middle of a pixel, the other about the edge of one.
func TestOddAndEvenStemsOnOneAxisCannotBothBeMirrored(t *testing.T) {
	for _, c := range []struct {
		why  string
		dot  int
		want bool
	}{
		{"3 px over 2 px", 150, true},
		{"4 px over 2 px", 200, false},
		{"2.4 px may be taken for 2 or 3", 120, false},
	} {
		lo, hi := 275-c.dot/2, 275+c.dot/2
		d := drawn([]face.Hint{stem(glyph.AxisX, lo, hi), stem(glyph.AxisX, 225, 325)}, [4]int{lo, 500, hi, 650}, [4]int{225, 0, 325, 450})
		f := featuresOf(d, nil, 0)
		require.True(t, f.mirror, c.why)
		require.Equal(t, c.want, f.oddAndEven(&face.Private{}, tiny), c.why)
	}
	d := drawn([]face.Hint{stem(glyph.AxisX, 200, 350), stem(glyph.AxisX, 500, 600)}, [4]int{200, 0, 350, 650}, [4]int{500, 0, 600, 650})
	f := featuresOf(d, nil, 0)
	require.False(t, f.oddAndEven(&face.Private{}, tiny), "they do not share an axis")
}

// A top at 500 in the zones 490 to 510 and 500 to 540: rows 10 and 10 at 20 pixels
// per em, but 49 and 50 at 100.
func TestOverlappingZonesAskForTwoRowsWhereTheirFlatsRoundApart(t *testing.T) {
	zones := []band{{true, 490, 510, 0}, {true, 500, 540, 0}, {false, 0, -20, 0}}
	f := featuresOf(drawn(nil, [4]int{0, 0, 100, 500}), zones, 0)
	var top *rowFeature
	for i := range f.rows {
		if f.rows[i].top {
			top = &f.rows[i]
		}
	}
	require.NotNil(t, top)
	require.Equal(t, []int{0, 1}, top.others)
	require.False(t, contested(top.others, zones, tiny))
	require.True(t, contested(top.others, zones, 0.1))
	require.False(t, contested(top.others[:1], zones, 0.1), "one zone asks for one row")
}

func TestADeclaredStemOfNoWidthIsNoStemToLose(t *testing.T) {
	ghost := stem(glyph.AxisY, 0, 0)
	ghost.Ghost = face.GhostBottom
	f := featuresOf(drawn([]face.Hint{stem(glyph.AxisX, 40, 40), ghost, stem(glyph.AxisX, 0, 100)}, [4]int{0, 0, 100, 500}), nil, 0)
	require.Equal(t, 1, f.zeroWidths, "a ghost is an edge, not a stem of no width")
	require.Len(t, f.stems, 1)
}

// A bar from 10 to 12 pixels in one column of ink, from the bottom row to the top one.
func TestARoundThatRunsIntoAStrokeHasNotVanished(t *testing.T) {
	for _, c := range []struct {
		why         string
		bottom, top int
		want        bool
	}{
		{"the bar alone", 10, 12, true},
		{"it ends where the bar ends, and goes on below", 3, 12, true},
		{"it begins where the bar begins, and goes on above", 11, 20, true},
		{"it goes through the bar and far on to both sides", 3, 20, false},
		{"it ends two pixels below", 3, 9, false},
	} {
		b := glyph.NewBitmap(0, c.bottom, 1, c.top-c.bottom, 1)
		for y := c.bottom; y < c.top; y++ {
			b.Set(0, y, 1)
		}
		m := &measuring{scale: tiny}
		s := &stemFeature{axis: glyph.AxisY, lo: 500, hi: 600, across: 25}
		require.Equal(t, c.want, m.edgeStands(s, &glyph.Cell{Bitmap: b}, 0), c.why)
	}
}

// The top bar of an f, with flats at 683 on row 28: at 41.67 pixels per em it would lie at
// 28.5 to 29.3 if it were only scaled.
func TestABarWhoseOvershootIsSuppressedIsLookedForOnTheRow(t *testing.T) {
	zones := []band{{true, 683, 705, 1}}
	for _, c := range []struct {
		why            string
		lo, hi, bottom int
		want           bool
	}{
		{"on the row", 684, 704, 27, true},
		{"two rows under it", 684, 704, 25, false},
		{"its edge is in the zone by BlueFuzz", 684, 706, 27, true},
		{"beyond that it is in no zone", 686, 708, 27, false},
	} {
		f := featuresOf(drawn([]face.Hint{stem(glyph.AxisY, c.lo, c.hi)}, [4]int{0, c.lo, 500, c.hi}), zones, 0)
		require.Len(t, f.stems, 1)
		b := glyph.NewBitmap(0, c.bottom, 20, 1, 1)
		for x := range 20 {
			b.Set(x, c.bottom, 1)
		}
		p := &face.Private{BlueScale: 0.045}
		m := &measuring{score: &score{}, s: &subject{bands: map[*face.Private][]band{p: zones}}, scale: 0.04167, widths: map[widthKey]map[string]int{}}
		m.stems(f, p, &glyph.Cell{Bitmap: b}, c.why)
		require.Equal(t, c.want, m.good[nothingVanishes] == 1, c.why)
		require.Equal(t, 1, m.all[nothingVanishes], c.why)
	}
}
