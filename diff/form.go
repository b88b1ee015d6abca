package diff

import (
	"cmp"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Form is what holds an outline together: its parts of ink and its counters.
type Form struct {
	parts, counters []region
	large           glyph.Bitmap // at FormPPEM, tight
}

// region is a connected part of ink or of white, in ems about the origin, Y up.
type region struct {
	x0, y0, x1, y1 float64
	x, y           float64 // its middle, by area
	area           float64 // square ems
	name           string  // of a part of ink: which of the outline's it is; "" of the largest
	place          int     // among the parts of ink, or the counters, of the outline
}

// FormPPEM is a size at which strokes and gaps down to 1/128 em still show.
var FormPPEM = glyph.PPEM{X: 128 * 64, Y: 128 * 64}

// Form reads the form of a glyph off its unhinted outline, drawn at FormPPEM.
func (j *Judge) Form(large *glyph.Cell) *Form {
	p := j.planeOf(&large.Bitmap)
	all := p.parts(&j.desk, 0)
	ink := sizeable(all.ink)
	f := &Form{p.regions(ink, FormPPEM), p.regions(sizeable(all.counters()), FormPPEM), large.Bitmap.Tight()}
	f.large.Words = slices.Clone(f.large.Words) // the bitmap's own are drawn over
	for i, name := range nameParts(ink, large.Advance, large.Code) {
		if i != largest(ink) {
			f.parts[i].name = name
		}
	}
	for i := range f.parts {
		f.parts[i].place = i
	}
	for i := range f.counters {
		f.counters[i].place = i
	}
	return f
}

// plane lays the form out in the memory of a pair's candidate.
func (f *Form) plane(on *desk) plane {
	t := &f.large
	empty := plane{t.Left - margin, t.Bottom - margin, t.Width + 2*margin, t.Height + 2*margin, nil}
	return empty.with(t, &on.pair[1])
}

// sizeable drops specks: where two strokes of an outline cross or all but touch,
// a drawing of it shuts a pixel in that nobody drew.
func sizeable(list []part) []part {
	return slices.DeleteFunc(list, func(q part) bool { return len(q.pixels) < formSpeck })
}

func (p *plane) regions(list []part, ppem glyph.PPEM) []region {
	out := make([]region, len(list))
	for i := range list {
		out[i] = p.region(&list[i], ppem)
	}
	return out
}

func (p *plane) region(q *part, ppem glyph.PPEM) region {
	emX, emY := ppem.Float()
	x, y := p.middle(q)
	return region{float64(p.x0+q.x0) / emX, float64(p.y0+q.y0) / emY, float64(p.x0+q.x1) / emX, float64(p.y0+q.y1) / emY,
		x / emX, y / emY, float64(len(q.pixels)) / emX / emY, "", 0}
}

// middle is that of a part's pixels, in device pixels about the origin.
func (p *plane) middle(q *part) (x, y float64) {
	for _, i := range q.pixels {
		x += float64(p.x0+i%p.w) + 0.5
		y += float64(p.y0+i/p.w) + 0.5
	}
	n := float64(len(q.pixels))
	return x / n, y / n
}

// with is the box of both; its middle is the first's.
func (r region) with(o region) region {
	r.x0, r.y0, r.x1, r.y1 = min(r.x0, o.x0), min(r.y0, o.y0), max(r.x1, o.x1), max(r.y1, o.y1)
	return r
}

// matched pairs regions with the parts that draw them, the nearest first, and
// gives the region of each part, -1 where it draws none. Hints and rounding carry
// a region by strayPx and no further.
func (p *plane) matched(regions []region, parts []part, ppem glyph.PPEM) []int {
	emX, emY := ppem.Float()
	type pair struct {
		region, part int
		off          float64
	}
	var pairs []pair
	for j := range parts {
		q := &parts[j]
		x, y := p.middle(q)
		for i, r := range regions {
			if float64(p.x0+q.x0) > r.x1*emX+strayPx || float64(p.x0+q.x1) < r.x0*emX-strayPx ||
				float64(p.y0+q.y0) > r.y1*emY+strayPx || float64(p.y0+q.y1) < r.y0*emY-strayPx {
				continue
			}
			pairs = append(pairs, pair{i, j, math.Hypot(r.x*emX-x, r.y*emY-y)})
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int { return cmp.Or(cmp.Compare(a.off, b.off), a.region-b.region, a.part-b.part) })
	m := matching{draws: make([]int, len(parts)), taken: make([]int, len(regions)), near: make([][]int, len(regions))}
	for j := range m.draws {
		m.draws[j] = -1
	}
	for i := range m.taken {
		m.taken[i] = -1
	}
	for _, pr := range pairs {
		m.near[pr.region] = append(m.near[pr.region], pr.part)
		if m.draws[pr.part] < 0 && m.taken[pr.region] < 0 {
			m.pair(pr.region, pr.part)
		}
	}
	for i := range regions {
		if m.taken[i] < 0 {
			m.seen = map[int]bool{}
			m.place(i)
		}
	}
	return m.draws
}

// matching pairs regions with parts.
type matching struct {
	draws []int   // by part: its region, or -1
	taken []int   // by region: its part, or -1
	near  [][]int // by region: parts that may draw it, the nearest first
	seen  map[int]bool
}

func (m *matching) pair(region, part int) { m.draws[part], m.taken[region] = region, part }

// place finds a part for a region, if need be one whose own region can have another: of
// two bars that hints carried a pixel up, the upper one is nearest to neither's place.
func (m *matching) place(region int) bool {
	for _, part := range m.near[region] {
		if m.seen[part] {
			continue
		}
		m.seen[part] = true
		if o := m.draws[part]; o < 0 || m.place(o) {
			m.pair(region, part)
			return true
		}
	}
	return false
}

// unmatched gives the regions that no part draws, and the parts that draw none.
func unmatched(regions []region, parts []part, draws []int) (undrawn []region, surplus []part) {
	for i, r := range regions {
		if !slices.Contains(draws, i) {
			undrawn = append(undrawn, r)
		}
	}
	for j, i := range draws {
		if i < 0 {
			surplus = append(surplus, parts[j])
		}
	}
	return undrawn, surplus
}
