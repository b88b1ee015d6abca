package diff

import (
	"cmp"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Form is what holds an outline together: its parts of ink and its counters.
type Form struct{ parts, counters []region }

// region is a connected part of ink or of white, in ems about the origin, Y up.
type region struct {
	x0, y0, x1, y1 float64
	x, y           float64 // its middle, by area
	area           float64 // square ems
}

// FormPPEM is a size at which strokes and gaps down to 1/128 em still show.
var FormPPEM = glyph.PPEM{X: 128 * 64, Y: 128 * 64}

// NewForm reads the form off the unhinted outline, drawn at FormPPEM.
func NewForm(large *glyph.Bitmap) *Form {
	p := planeOf(large)
	ink, white := p.patches(new(desk))
	em := float64(FormPPEM.X) / 64
	return &Form{regionsOf(sizeable(ink), em, em), regionsOf(sizeable(white), em, em)}
}

// sizeable drops specks: where two strokes of an outline cross or all but touch,
// a drawing of it shuts a pixel in that nobody drew.
func sizeable(list []patch) []patch {
	return slices.DeleteFunc(list, func(q patch) bool { return q.pixels < formSpeck })
}

// patch is a connected part of a drawing, in device pixels about the origin.
type patch struct {
	x0, y0, x1, y1 int // half open
	x, y           float64
	pixels         int
}

// patches lists the parts of ink, 8-connected, and the parts of white that ink
// shuts in, 4-connected.
func (p *plane) patches(d *desk) (ink, white []patch) {
	p.flood(d, func(isInk bool, pixels []int) {
		q := patch{x0: math.MaxInt, y0: math.MaxInt, x1: math.MinInt, y1: math.MinInt, pixels: len(pixels)}
		for _, i := range pixels {
			x, y := p.x0+i%p.w, p.y0+i/p.w
			q.x0, q.y0, q.x1, q.y1 = min(q.x0, x), min(q.y0, y), max(q.x1, x+1), max(q.y1, y+1)
			q.x += float64(x) + 0.5
			q.y += float64(y) + 0.5
		}
		q.x /= float64(len(pixels))
		q.y /= float64(len(pixels))
		switch {
		case isInk:
			ink = append(ink, q)
		case q.x0 > p.x0: // the margin is the outside
			white = append(white, q)
		}
	})
	return ink, white
}

func regionsOf(list []patch, emX, emY float64) []region {
	out := make([]region, len(list))
	for i, q := range list {
		out[i] = region{float64(q.x0) / emX, float64(q.y0) / emY, float64(q.x1) / emX, float64(q.y1) / emY,
			q.x / emX, q.y / emY, float64(q.pixels) / emX / emY}
	}
	return out
}

// with is the box of both; its middle is the first's.
func (r region) with(o region) region {
	r.x0, r.y0, r.x1, r.y1 = min(r.x0, o.x0), min(r.y0, o.y0), max(r.x1, o.x1), max(r.y1, o.y1)
	return r
}

// matched pairs regions with the patches that draw them, the nearest first, and
// gives those of either that are left alone. Hints and rounding carry a region
// by strayPx and no further.
func matched(regions []region, patches []patch, ppem glyph.PPEM) (undrawn []region, surplus []patch) {
	emX, emY := float64(ppem.X)/64, float64(ppem.Y)/64
	type pair struct {
		region, patch int
		off           float64
	}
	var pairs []pair
	for i, r := range regions {
		for j, q := range patches {
			if float64(q.x0) > r.x1*emX+strayPx || float64(q.x1) < r.x0*emX-strayPx ||
				float64(q.y0) > r.y1*emY+strayPx || float64(q.y1) < r.y0*emY-strayPx {
				continue
			}
			pairs = append(pairs, pair{i, j, math.Hypot(r.x*emX-q.x, r.y*emY-q.y)})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.off, b.off) })
	hasPatch, hasRegion := make([]bool, len(regions)), make([]bool, len(patches))
	for _, p := range pairs {
		if !hasPatch[p.region] && !hasRegion[p.patch] {
			hasPatch[p.region], hasRegion[p.patch] = true, true
		}
	}
	for i, r := range regions {
		if !hasPatch[i] {
			undrawn = append(undrawn, r)
		}
	}
	for j, q := range patches {
		if !hasRegion[j] {
			surplus = append(surplus, q)
		}
	}
	return undrawn, surplus
}
