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

type interval struct{ lo, hi float64 }

// abreastOf lists those of every set of hints; of hints that overlap the first counts.
func abreastOf(d *face.Drawing, axis glyph.Axis) (all []abreast) {
	for _, span := range d.Spans {
		var row abreast
		for _, h := range span.Hints {
			if hint := &d.Hints[h]; hint.Axis == axis && hint.Ghost == face.NoGhost && hint.Lo < hint.Hi {
				s := interval{unitsOf(hint.Lo), unitsOf(hint.Hi)}
				if !slices.ContainsFunc(row, func(o interval) bool { return o.lo < s.hi && s.lo < o.hi }) {
					row = append(row, s)
				}
			}
		}
		slices.SortFunc(row, func(s, o interval) int { return int(s.lo - o.lo) })
		if !slices.ContainsFunc(all, func(o abreast) bool { return slices.Equal(o, row) }) {
			all = append(all, row)
		}
	}
	return all
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
// none over another, so that no edge is more than a pixel from its place.
func (row abreast) fits(widths []int, scale float64) bool {
	next := math.Inf(-1)
	for i, s := range row {
		lo, hi, w := s.lo*scale, s.hi*scale, float64(widths[i])
		least, most := max(lo, hi-w)-1-rounded, min(lo, hi-w)+1+rounded
		at := max(math.Ceil(least), next)
		if at > most {
			return false
		}
		next = at + w
	}
	return true
}

// widthOf is a stem's width in whole pixels, as the package comment of
// harness/gridfit/stems has it: that of StdVW or StdHW, else of the nearest StemSnap
// value, where it is less than 40/64 pixel and by no more than the factor 1.3 off and
// would not come out three quarters of a pixel off; else its own; ForceBold makes two pixels of
// one, hairlines excepted. It depends on nothing that a renderer does.
func widthOf(units float64, p *face.Private, axis glyph.Axis, scale float64) int {
	standard := p.StdHW
	if axis == glyph.AxisX {
		standard = p.StdVW
	}
	whole := func(v float64) float64 { return math.Floor(v*scale + 0.5) }
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

// Every way to place three stems is tried.
func TestStemsAreCrowdedWhereNoPlacementDoes(t *testing.T) {
	seen := map[bool]int{}
	for _, row := range []abreast{
		{{0, 149}, {150, 299}, {301, 450}},
		{{0, 149}, {160, 309}, {320, 470}},
		{{10, 40}, {45, 75}, {80, 110}},
		{{3, 37}, {37, 71}, {300, 334}},
	} {
		for _, scale := range []float64{0.01, 0.017, 0.0225, 0.025, 0.0333, 0.0472} {
			for _, bold := range []bool{false, true} {
				var widths []int
				for _, s := range row {
					widths = append(widths, widthOf(s.hi-s.lo, &face.Private{ForceBold: bold}, glyph.AxisX, scale))
				}
				found := false
				var try func(i, from int)
				try = func(i, from int) {
					found = found || i == len(row)
					for at := from; !found && at < 30; at++ {
						left, right := math.Abs(float64(at)-row[i].lo*scale), math.Abs(float64(at+widths[i])-row[i].hi*scale)
						if max(left, right) <= 1+rounded {
							try(i+1, at+widths[i])
						}
					}
				}
				try(0, -3)
				require.Equal(t, found, row.fits(widths, scale), "%v at %v px a unit, widths %v", row, scale, widths)
				seen[found]++
			}
		}
	}
	require.Greater(t, min(seen[true], seen[false]), 3, "both kinds are among them")
}

// Dots of 66 units with 4 between them, which ForceBold does not make two pixels: at 6 pt
// and 203 dpi they have 1.18 px each.
func TestDotsOfAPatternAreNotCrowdedByStandardWidths(t *testing.T) {
	dots := abreast{{37, 103}, {107, 173}, {177, 243}, {247, 313}}
	bold := &face.Private{StdVW: 70, ForceBold: true}
	for _, c := range []struct {
		why  string
		row  abreast
		want bool
	}{
		{"four dots", dots, false},
		{"three stems are no pattern", dots[:3], true},
		{"four that are not as wide", abreast{{37, 103}, {107, 173}, {177, 243}, {247, 314}}, true},
		{"four further apart", abreast{{37, 103}, {110, 176}, {183, 249}, {256, 322}}, true},
	} {
		f := &features{abreast: [2][]abreast{glyph.AxisX: {c.row}}}
		require.Equal(t, c.want, f.crowded(bold, glyph.AxisX, 0.01692), c.why)
	}
}

func TestOnlyStemsInForceTogetherStandAbreast(t *testing.T) {
	d := drawn([]face.Hint{stem(glyph.AxisX, 0, 50), stem(glyph.AxisX, 40, 90), stem(glyph.AxisX, 100, 150), stem(glyph.AxisY, 0, 20)})
	d.Spans = []face.Span{{Hints: []int{2, 0, 3}}, {Hints: []int{0, 1}}}
	require.Equal(t, []abreast{{{0, 50}, {100, 150}}, {{0, 50}}}, abreastOf(d, glyph.AxisX))
}
