package stems

import (
	"slices"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
)

// zone is an alignment zone at one size: edges in it stand on one row, rounds
// beyond it by whole pixels where their overshoot is large enough to show (Type 1
// book, 5.1 to 5.9).
type zone struct {
	top        bool          // it holds top edges; else bottom edges
	flat, over fixed.Int26_6 // font units: where flat edges stand, how far rounds reach
	fuzz       fixed.Int26_6 // font units
	row        fixed.Int26_6 // device pixels, whole: where flat edges go
	family     bool          // the row is that of the family's zone
	suppress   bool          // below BlueScale: rounds stand on the row as well
	shift      fixed.Int26_6 // BlueShift
	scale      scale
}

// holds says whether an edge lies in the zone, BlueFuzz included.
func (z *zone) holds(edge fixed.Int26_6) bool {
	return edge >= min(z.flat, z.over)-z.fuzz && edge <= max(z.flat, z.over)+z.fuzz
}

// byFuzz says that an edge lies in the zone by BlueFuzz alone.
func (z *zone) byFuzz(edge fixed.Int26_6) bool {
	return edge < min(z.flat, z.over) || edge > max(z.flat, z.over)
}

// under says that another zone, further from the middle of the glyph, has the same row.
func (z *zone) under(zones []zone) bool {
	return slices.ContainsFunc(zones, func(o zone) bool {
		return o.top == z.top && o.row == z.row && (o.flat > z.flat) == z.top && o.flat != z.flat
	})
}

// fit is where an edge of the zone stands. At and above BlueScale an overshoot
// of BlueShift or more gets at least one pixel, a smaller one is rounded, half a
// pixel to nothing (Type 1 book, 5.7).
func (z *zone) fit(edge fixed.Int26_6) fixed.Int26_6 {
	beyond := edge - z.flat
	if !z.top {
		beyond = -beyond
	}
	if z.suppress || beyond <= 0 {
		return z.row
	}
	over := (z.scale.of(beyond) + pixel/2 - 1) &^ (pixel - 1)
	if beyond >= z.shift {
		over = max(over, pixel)
	}
	if !z.top {
		over = -over
	}
	return z.row + over
}

// maxZones bounds each list of zones; the book allows 7 pairs of BlueValues and
// 5 of OtherBlues.
const maxZones = 16

// newZones places a face's zones at a size. The first pair of BlueValues is the
// baseline's and holds bottom edges, as OtherBlues do; the others hold top edges
// (Type 1 book, 5.4).
func newZones(p *face.Private, s scale) []zone {
	all, family := pairs(p.BlueValues, p.OtherBlues), pairs(p.FamilyBlues, p.FamilyOtherBlues)
	suppress := belowBlueScale(blueScale(p.BlueScale, all), s)
	for i := range all {
		z := &all[i]
		z.fuzz, z.shift, z.scale, z.suppress = max(0, units(p.BlueFuzz)), units(p.BlueShift), s, suppress
		flat := z.flat
		if f, ok := z.nearest(family); ok && abs(s.of(f-z.flat)) < pixel {
			z.family, flat = f != z.flat, f
		}
		z.row = whole(s.of(flat))
	}
	return all
}

// nearest is the flat position of the family's zone that lies nearest. It
// stands in for the face's own where the two are less than a pixel apart (Type 1
// book, 5.5).
func (z *zone) nearest(family []zone) (flat fixed.Int26_6, ok bool) {
	for i := range family {
		f := &family[i]
		if f.top == z.top && (!ok || abs(f.flat-z.flat) < abs(flat-z.flat)) {
			flat, ok = f.flat, true
		}
	}
	return flat, ok
}

func pairs(blues, others []float64) []zone {
	var all []zone
	for i := 0; i+1 < len(blues) && i < 2*maxZones; i += 2 {
		lo, hi := ordered(blues[i], blues[i+1])
		if i == 0 {
			all = append(all, zone{flat: hi, over: lo})
		} else {
			all = append(all, zone{top: true, flat: lo, over: hi})
		}
	}
	for i := 0; i+1 < len(others) && i < 2*maxZones; i += 2 {
		lo, hi := ordered(others[i], others[i+1])
		all = append(all, zone{flat: hi, over: lo})
	}
	return all
}

func ordered(a, b float64) (lo, hi fixed.Int26_6) {
	return min(units(a), units(b)), max(units(a), units(b))
}

// blueScaleOne is one pixel per font unit.
const blueScaleOne = 1e9

// blueScale is BlueScale, in parts of blueScaleOne, as far as it may go: times the
// tallest zone it must stay under a pixel (Type 1 book, 5.6).
func blueScale(declared float64, zones []zone) int64 {
	if !(declared > 0 && declared < 1) {
		return 0
	}
	limit := int64(declared*blueScaleOne + 0.5)
	for i := range zones {
		if h := abs(zones[i].over - zones[i].flat); h > 0 {
			limit = min(limit, blueScaleOne*int64(pixel)/int64(h))
		}
	}
	return limit
}

// belowBlueScale says whether overshoot is suppressed: the scale, in pixels per
// font unit, is below BlueScale.
func belowBlueScale(limit int64, s scale) bool {
	return int64(s.ppem)*blueScaleOne < limit*int64(s.upem)*int64(pixel)
}

// catch finds the zone of an edge: the one whose flat position is nearest,
// where zones overlap; -1 where there is none. What BlueFuzz alone brings into a zone
// stays out where the next zone beyond stands on the same row: the terminal of an f would
// be as high as its arch.
func catch(zones []zone, edge fixed.Int26_6, top bool) int {
	best := -1
	for i := range zones {
		z := &zones[i]
		if z.top != top || !z.holds(edge) || z.byFuzz(edge) && z.under(zones) {
			continue
		}
		if best < 0 || abs(edge-z.flat) < abs(edge-zones[best].flat) {
			best = i
		}
	}
	return best
}
