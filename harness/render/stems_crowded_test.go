package render

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// abreast are stems of one axis that are in force together and do not overlap, in
// rising order, in font units.
type abreast []interval

type interval struct {
	lo, hi  float64
	counter bool // straight edges of it and of the next one face each other: see counters
}

// abreastOf lists those of every set of hints; of hints that overlap the first counts.
func abreastOf(d *face.Drawing, contours [][]point, axis glyph.Axis) (all []abreast) {
	for _, span := range d.Spans {
		var row abreast
		for _, h := range span.Hints {
			if hint := &d.Hints[h]; hint.Axis == axis && hint.Ghost == face.NoGhost && hint.Lo < hint.Hi {
				s := interval{lo: unitsOf(hint.Lo), hi: unitsOf(hint.Hi)}
				if !slices.ContainsFunc(row, func(o interval) bool { return o.lo < s.hi && s.lo < o.hi }) {
					row = append(row, s)
				}
			}
		}
		slices.SortFunc(row, func(s, o interval) int { return int(s.lo - o.lo) })
		if axis == glyph.AxisX {
			row.findCounters(contours)
		}
		if !slices.ContainsFunc(all, func(o abreast) bool { return slices.Equal(o, row) }) {
			all = append(all, row)
		}
	}
	return all
}

// findCounters notes between which upright stems there is a counter.
func (row abreast) findCounters(contours [][]point) {
	for i := range row[:max(0, len(row)-1)] {
		for _, a := range sides(contours, glyph.AxisX, row[i].hi) {
			for _, b := range sides(contours, glyph.AxisX, row[i+1].lo) {
				row[i].counter = row[i].counter || a.straight && b.straight && min(a.to, b.to) > max(a.from, b.from)
			}
		}
	}
}

// crowded says that some stems of a glyph cannot be placed: see fits.
func (f *features) crowded(p *face.Private, axis glyph.Axis, scale float64) bool {
	return slices.ContainsFunc(f.abreast[axis], func(row abreast) bool {
		var widths []int
		for i, s := range row {
			w := widthOf(s.hi-s.lo, p, axis, scale)
			if row.dotted(i) && float64(w) > 1.1*(s.hi-s.lo)*scale { // no room for it
				w = widthOf(s.hi-s.lo, &face.Private{}, axis, scale)
			}
			widths = append(widths, w)
		}
		return !row.fits(widths, scale)
	})
}

// dotted says that a stem is a dot of a pattern: one of four as wide, which follow each
// other with a tenth of that between them at most.
func (row abreast) dotted(i int) bool {
	from, to := i, i
	follows := func(k int) bool {
		width := row[k].hi - row[k].lo
		return row[k-1].hi-row[k-1].lo == width && 10*math.Abs(row[k].lo-row[k-1].hi) <= width
	}
	for from > 0 && follows(from) {
		from--
	}
	for to+1 < len(row) && follows(to+1) {
		to++
	}
	return to-from > 2
}

// fits says that stems of whole widths can stand on whole pixels, in order and
// none over another, so that no edge is more than a pixel from its place, and no counter
// of a pixel and more is closed.
func (row abreast) fits(widths []int, scale float64) bool {
	next := math.Inf(-1)
	for i, s := range row {
		lo, hi, w := s.lo*scale, s.hi*scale, float64(widths[i])
		least, most := max(lo, hi-w)-1-rounded, min(lo, hi-w)+1+rounded
		at := max(math.Ceil(least), next)
		if at > most {
			return false
		}
		next = at + w + float64(row.keeps(i, scale))
	}
	return true
}

// keeps is how many pixels must be left between a stem and the next one.
func (row abreast) keeps(i int, scale float64) int {
	if row[i].counter && (row[i+1].lo-row[i].hi)*scale >= 1 {
		return 1
	}
	return 0
}

// widthOf is a stem's width in whole pixels, as the package comment of
// harness/gridfit/stems has it: that of StdVW or StdHW, else of the nearest StemSnap
// value, where it is less than 40/64 pixel and by no more than the factor 1.3 off and
// would not come out three quarters of a pixel off; else its own; ForceBold makes two pixels of
// one, hairlines excepted. Half a pixel is what is half a pixel in 64ths, as sizes are: 42
// units at 10 pt and 600 dpi, where the size in 64ths makes them 3.4998 px. It depends on
// nothing that a renderer does.
func widthOf(units float64, p *face.Private, axis glyph.Axis, scale float64) int {
	standard := p.StdHW
	if axis == glyph.AxisX {
		standard = p.StdVW
	}
	whole := func(v float64) float64 { return math.Floor(v*scale + 0.5 + rounded/2) }
	near := func(v float64) bool {
		return v > 0 && math.Abs(v-units)*scale < 40.0/64 && max(v, units) <= 1.3*min(v, units) && math.Abs(whole(v)-units*scale) < 48.0/64
	}
	taken := units
	if near(standard) {
		taken = standard
	} else {
		for _, v := range snapsOf(p, axis) {
			if near(v) && (taken == units || math.Abs(v-units) < math.Abs(taken-units)) {
				taken = v
			}
		}
	}
	px := int(max(1, whole(taken)))
	if axis == glyph.AxisX && p.ForceBold && px == 1 && 2*units >= p.StdVW {
		return 2
	}
	return px
}

func TestHalfAPixelOfAStemIsHalfOneInSixtyFourths(t *testing.T) {
	for _, c := range []struct {
		why         string
		units, ppem float64
		want        int
	}{
		{"3.5 px but for the size, which is 83.3333", 42, 83.328125, 4},
		{"1.4939 px, 95.6 64ths", 53, 28.1875, 2},
		{"1.4920 px, 95.49 64ths", 53, 28.15, 1},
	} {
		require.Equal(t, c.want, widthOf(c.units, &face.Private{}, glyph.AxisX, c.ppem/1000), c.why)
	}
}

// Every way to place three stems is tried, with a counter after each and without.
func TestStemsAreCrowdedWhereNoPlacementDoes(t *testing.T) {
	seen := map[[2]bool]int{}
	for _, row := range []abreast{
		{{lo: 0, hi: 149}, {lo: 150, hi: 299}, {lo: 301, hi: 450}},
		{{lo: 0, hi: 149}, {lo: 160, hi: 309}, {lo: 320, hi: 470}},
		{{lo: 10, hi: 40}, {lo: 45, hi: 75}, {lo: 80, hi: 110}},
		{{lo: 3, hi: 37}, {lo: 37, hi: 71}, {lo: 300, hi: 334}},
		{{lo: 193, hi: 266}, {lo: 344, hi: 417}, {lo: 495, hi: 568}},
		{{lo: 268, hi: 316}, {lo: 406, hi: 454}, {lo: 500, hi: 540}},
	} {
		for _, scale := range []float64{0.01, 0.017, 0.0225, 0.025, 0.0333, 0.0472} {
			for _, bold := range []bool{false, true} {
				for _, counters := range []bool{false, true} {
					var widths []int
					for i, s := range row {
						row[i].counter = counters && i+1 < len(row)
						widths = append(widths, widthOf(s.hi-s.lo, &face.Private{ForceBold: bold}, glyph.AxisX, scale))
					}
					found := false
					var try func(i, from int)
					try = func(i, from int) {
						found = found || i == len(row)
						for at := from; !found && at < 30; at++ {
							left, right := math.Abs(float64(at)-row[i].lo*scale), math.Abs(float64(at+widths[i])-row[i].hi*scale)
							if max(left, right) > 1+rounded {
								continue
							}
							next := at + widths[i]
							if counters && i+1 < len(row) && row[i+1].lo*scale-row[i].hi*scale >= 1 {
								next++
							}
							try(i+1, next)
						}
					}
					try(0, -3)
					require.Equal(t, found, row.fits(widths, scale), "%v at %v px a unit, widths %v", row, scale, widths)
					seen[[2]bool{found, counters}]++
				}
			}
		}
	}
	for _, counters := range []bool{false, true} {
		require.Greater(t, min(seen[[2]bool{true, counters}], seen[[2]bool{false, counters}]), 3, "both kinds are among them")
	}
	require.Greater(t, seen[[2]bool{false, true}], seen[[2]bool{false, false}], "and some are crowded by their counters alone")
}

// Two stems 48 units wide with 90 between them, which ForceBold makes two pixels wide: at 7
// pt and 203 dpi they stand within a pixel of their places on 5 to 7 and 7 to 9, not with
// a pixel between.
func TestACounterCrowdsStemsWhereItsEdgesFaceEachOther(t *testing.T) {
	bold := &face.Private{ForceBold: true}
	for _, c := range []struct {
		why    string
		second [4]int
		want   bool
	}{
		{"beside each other", [4]int{406, -126, 454, 626}, true},
		{"one above the other", [4]int{406, 300, 454, 626}, false},
		{"52 units between them, 1.03 px", [4]int{368, -126, 416, 626}, true},
		{"46 units between them, 0.9 px", [4]int{362, -126, 410, 626}, false},
	} {
		d := drawn([]face.Hint{stem(glyph.AxisX, 268, 316), stem(glyph.AxisX, c.second[0], c.second[2])}, [4]int{268, 217, 316, 283}, c.second)
		d.Spans = []face.Span{{Hints: []int{0, 1}}}
		require.Equal(t, c.want, featuresOf(d, nil, 0).crowded(bold, glyph.AxisX, 0.019734), c.why)
	}
}

// Dots of 66 units with 4 between them, which ForceBold does not make two pixels: at 6 pt
// and 203 dpi they have 1.18 px each.
func TestDotsOfAPatternAreNotCrowdedByStandardWidths(t *testing.T) {
	dots := abreast{{lo: 37, hi: 103}, {lo: 107, hi: 173}, {lo: 177, hi: 243}, {lo: 247, hi: 313}}
	bold := &face.Private{StdVW: 70, ForceBold: true}
	for _, c := range []struct {
		why  string
		row  abreast
		want bool
	}{
		{"four dots", dots, false},
		{"three stems are no pattern", dots[:3], true},
		{"four that are not as wide", abreast{{lo: 37, hi: 103}, {lo: 107, hi: 173}, {lo: 177, hi: 243}, {lo: 247, hi: 314}}, true},
		{"four further apart", abreast{{lo: 37, hi: 103}, {lo: 110, hi: 176}, {lo: 183, hi: 249}, {lo: 256, hi: 322}}, true},
	} {
		f := &features{abreast: [2][]abreast{glyph.AxisX: {c.row}}}
		require.Equal(t, c.want, f.crowded(bold, glyph.AxisX, 0.01692), c.why)
	}
}

func TestOnlyStemsInForceTogetherStandAbreast(t *testing.T) {
	d := drawn([]face.Hint{stem(glyph.AxisX, 0, 50), stem(glyph.AxisX, 40, 90), stem(glyph.AxisX, 100, 150), stem(glyph.AxisY, 0, 20)})
	d.Spans = []face.Span{{Hints: []int{2, 0, 3}}, {Hints: []int{0, 1}}}
	require.Equal(t, []abreast{{{lo: 0, hi: 50}, {lo: 100, hi: 150}}, {{lo: 0, hi: 50}}}, abreastOf(d, nil, glyph.AxisX))
}
