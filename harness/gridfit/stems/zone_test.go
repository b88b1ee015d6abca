package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// at is a scale for a face of 1000 units per em.
func at(t *testing.T, pt, dpi int) scale {
	t.Helper()
	return scale{glyph.PixelsPerEm(glyph.Pt(pt), glyph.Dots(dpi)).Y, 1000}
}

// fu is a whole number of font units.
func fu(v int) fixed.Int26_6 { return fixed.I(v) }

func dictionary() *face.Private {
	return &face.Private{
		BlueValues: []float64{-15, 0, 450, 460, 662, 676}, OtherBlues: []float64{-217, -205},
		BlueScale: 0.039625, BlueShift: 7, BlueFuzz: 1,
	}
}

// The default BlueScale is (10 - 0.49)/240, so that overshoot shows from 10 pt
// at 300 dpi on; 11 pt is 0.04379 (Type 1 book, 5.6). The engines compare
// pixels per unit with it: 39.625 ppem.
func TestOvershootIsSuppressedBelowBlueScale(t *testing.T) {
	for _, c := range []struct {
		pt, dpi   int
		blueScale float64
		suppress  bool
	}{
		{9, 300, 0.039625, true},
		{10, 300, 0.039625, false},
		{8, 203, 0.039625, true},
		{12, 203, 0.039625, true},
		{14, 203, 0.039625, true},  // 39.47 ppem; the threshold is 14.05 pt
		{15, 203, 0.039625, false}, // 42.29 ppem
		{6, 600, 0.039625, false},
		{4, 600, 0.039625, true},
		{10, 300, 0.04379, true},
		{11, 300, 0.04379, false},
		{10, 300, 0, false},
	} {
		p := dictionary()
		p.BlueScale = c.blueScale
		zones := newZones(p, at(t, c.pt, c.dpi))
		require.Equal(t, c.suppress, zones[0].suppress, "%d pt at %d dpi, BlueScale %g", c.pt, c.dpi, c.blueScale)
	}
}

// BlueScale times the height of the tallest zone must be under 1 (Type 1 book,
// 5.6): with a zone of 25.2 units the default does, with one of 50 it is cut to
// 1/50, 20 ppem.
func TestBlueScaleIsCutToWhatTheTallestZoneAllows(t *testing.T) {
	p := dictionary()
	p.BlueValues[5] = 662 + 50
	require.False(t, newZones(p, scale{fixed.I(20), 1000})[0].suppress)
	require.True(t, newZones(p, scale{fixed.I(20) - 1, 1000})[0].suppress)
}

// 10 pt at 72 ppi is 10 ppem: an x-height of 540 units is 5.4 px, one of 560 is
// 5.6 px. They differ by less than a pixel, so the bold face's stands on the
// family's row: 5, not 6 (Type 1 book, 5.5).
func TestAZoneStandsOnTheFamilysRowWhereTheyAreLessThanAPixelApart(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-15, 0, 560, 575}, FamilyBlues: []float64{-15, 0, 540, 555}}
	z := newZones(p, scale{fixed.I(10), 1000})[1]
	require.Equal(t, fixed.I(5), z.row)
	require.True(t, z.family)

	z = newZones(p, scale{fixed.I(50), 1000})[1]
	require.Equal(t, fixed.I(28), z.row, "at 50 ppem they are just one pixel apart, and 560 units are 28 px")
	require.False(t, z.family)
}

// BlueShift is 7 units by default: half a pixel at 71.43 ppem (Type 1 book, 5.7).
func TestOvershootAboveBlueScaleShowsInWholePixels(t *testing.T) {
	for _, c := range []struct {
		why  string
		over int // units
		ppem int
		want int // pixels beyond the row
	}{
		{"less than BlueShift and under half a pixel: none", 6, 71, 0},
		{"less than BlueShift, half a pixel exactly: none", 5, 100, 0},
		{"less than BlueShift, above half a pixel: one", 6, 86, 1},
		{"BlueShift itself: at least one pixel", 7, 50, 1},
		{"beyond BlueShift, under half a pixel: one all the same", 10, 45, 1},
		{"beyond BlueShift, rounded where it is more", 14, 180, 3},
		{"short of the flat position: on the row", -1, 300, 0},
	} {
		p := dictionary()
		s := scale{fixed.I(c.ppem), 1000}
		zones := newZones(p, s)
		top, bottom := zones[2], zones[0]
		require.Equal(t, top.row+fixed.I(c.want), top.fit(fu(662+c.over)), "top zone: %s", c.why)
		require.Equal(t, bottom.row-fixed.I(c.want), bottom.fit(fu(-c.over)), "bottom zone: %s", c.why)
	}
}

func TestEdgesAreCaughtByZonesOfTheirKind(t *testing.T) {
	zones := newZones(dictionary(), at(t, 8, 203))
	for _, c := range []struct {
		why  string
		edge int
		top  bool
		want int
	}{
		{"on the baseline", 0, false, 0},
		{"at the end of the overshoot", -15, false, 0},
		{"BlueFuzz widens a zone by a unit at either side (Type 1 book, 5.8)", -16, false, 0},
		{"and above", 1, false, 0},
		{"further out it does not", -17, false, -1},
		{"a top edge is none of a bottom zone's", 0, true, -1},
		{"x-height", 455, true, 1},
		{"a bottom edge is none of a top zone's", 455, false, -1},
		{"OtherBlues are bottom zones", -217, false, 3},
		{"between zones", 300, true, -1},
	} {
		require.Equal(t, c.want, catch(zones, fu(c.edge), c.top), c.why)
	}
}

// The ball of an f ends a unit under a zone at 666 to 667 units; its arch is in one from 683 to
// 705. At 10 pt and 203 dpi both are on row 19; at 24 pt on 45 and 46, where
// the ball is held.
func TestBlueFuzzPutsNothingOnTheRowOfTheNextZone(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-22, 0, 666, 667, 683, 705}, BlueScale: 0.04379, BlueFuzz: 1}
	for _, c := range []struct {
		why  string
		pt   int
		edge int
		want int
	}{
		{"both on row 19", 10, 665, -1},
		{"within its zone without BlueFuzz", 10, 666, 1},
		{"no zone beyond the upper one", 10, 706, 2},
		{"on rows of their own", 24, 665, 1},
	} {
		require.Equal(t, c.want, catch(newZones(p, at(t, c.pt, 203)), fu(c.edge), true), c.why)
	}
}

// A pattern of dots, four rows high: one row begins where the last one ends, and the tops
// of two rows lie in zones which ask for three rows between them. A dot is 3.8 px high.
func TestNoZoneHoldsADotOfAPattern(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-15, 0, 417, 433, 563, 577}, BlueScale: 0.039625, StdHW: 51}
	bars := []face.Hint{bar(126, 275), bar(276, 425), bar(426, 575), bar(576, 725)}
	dots := boxes(bars, [4]int{0, 126, 149, 275}, [4]int{149, 276, 298, 425}, [4]int{0, 426, 149, 575}, [4]int{149, 576, 298, 725})
	o := fitter(t, p, 9, 203, Options{}).Fit(dots).Points
	for dot := range 4 {
		require.Equal(t, 4*pixel, o[4*dot+2].Y-o[4*dot].Y, "dot %d", dot)
		require.Equal(t, o[0].Y+fixed.Int26_6(4*dot)*pixel, o[4*dot].Y, "dot %d", dot)
	}
	two := boxes(bars[1:3], [4]int{149, 276, 298, 425}, [4]int{0, 426, 149, 575})
	o = fitter(t, p, 9, 203, Options{}).Fit(two).Points
	require.Equal(t, 14*pixel, o[6].Y, "two boxes that meet are no pattern: the top stands on its row")
}

// Dots of 66 units with 4 between them, 3.3 px and 0.2 px: taken for the standard width
// they would be 4 px high and lie over each other.
func TestADotOfAPatternIsAsWideAsItIsDrawn(t *testing.T) {
	bars := []face.Hint{bar(37, 103), bar(107, 173), bar(177, 243), bar(247, 313)}
	dots := [][4]int{{0, 37, 66, 103}, {70, 107, 136, 173}, {0, 177, 66, 243}, {70, 247, 136, 313}}
	p := &face.Private{StdHW: 70}
	o := fitter(t, p, 12, 300, Options{}).Fit(boxes(bars, dots...)).Points
	for dot := range dots {
		require.Equal(t, 3*pixel, o[4*dot+2].Y-o[4*dot].Y, "dot %d", dot)
		require.True(t, dot == 0 || o[4*dot].Y >= o[4*dot-2].Y, "dot %d", dot)
	}
	o = fitter(t, p, 12, 300, Options{}).Fit(boxes(bars[:3], dots[:3]...)).Points
	require.Equal(t, 4*pixel, o[2].Y-o[0].Y, "three are no pattern, as a stem between two dots")
}

func TestWhereZonesOverlapTheNearestFlatPositionHolds(t *testing.T) {
	p := &face.Private{BlueValues: []float64{-15, 0, 450, 460, 455, 470}}
	zones := newZones(p, at(t, 8, 203))
	require.Equal(t, 1, catch(zones, fu(452), true))
	require.Equal(t, 2, catch(zones, fu(458), true))
}

func TestDamagedDictionariesGiveZonesThatDoNoHarm(t *testing.T) {
	nan := func() float64 { z := 0.0; return z / z }()
	p := &face.Private{
		BlueValues: []float64{0, -15, 1e300, nan, 450}, BlueScale: nan, BlueShift: nan, BlueFuzz: -1e9,
		StdVW: nan, StemSnapV: []float64{nan, 1e99, -3},
	}
	zones := newZones(p, at(t, 8, 203))
	require.Len(t, zones, 2, "an odd number at the end stands for nothing")
	require.Equal(t, fixed.Int26_6(0), zones[0].flat, "a pair in the wrong order is put right")
	require.Equal(t, fu(-15), zones[0].over)
	w := newWidths(p, glyph.AxisX, at(t, 8, 203))
	require.Equal(t, 2*pixel, w.fit(fu(84)))
}
