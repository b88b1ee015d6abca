package stems

import (
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Size is what a face is fitted to.
type Size struct {
	PPEM glyph.PPEM
	UPEM int
}

// Options choose among ways to fit.
type Options struct {
	// YOnly leaves X to the scale alone, as grey devices want it.
	YOnly bool
	// Sideways lets a whole glyph move in its cell, by less than a pixel, to where
	// its vertical stems and the distances between them meet the grid best. The
	// advance stays.
	Sideways bool
}

// Fitter fits the glyphs that one hint dictionary applies to, at one size. It
// is for one goroutine.
type Fitter struct {
	x, y    axis
	options Options

	courseX, courseY course
	out              glyph.Outline
	drawn            glyph.Outline // the drawing's, flexes drawn straight
}

// New prepares a fitter. The dictionary is only read.
func New(p *face.Private, s Size, o Options) *Fitter {
	return &Fitter{
		x:       newAxis(p, glyph.AxisX, scale{s.PPEM.X, s.UPEM}, !o.YOnly),
		y:       newAxis(p, glyph.AxisY, scale{s.PPEM.Y, s.UPEM}, true),
		options: o,
	}
}

// Fit fits a drawing. The outline has the drawing's points one by one, in 26.6
// device pixels, and is valid until the next call. Nothing that a drawing holds
// makes it fail: hints that contradict each other are left out where they do.
func (f *Fitter) Fit(d *face.Drawing) *glyph.Outline {
	f.straighten(d)
	f.x.take(d)
	f.y.take(d)
	f.y.implyEdges(&f.drawn)
	f.x.implyGroups()
	f.y.implyGroups()
	f.y.place()
	if f.options.Sideways {
		f.x.sidle()
	} else {
		f.x.place()
	}
	f.move(d)
	return &f.out
}

// maxSpans bounds the sets of hints that one glyph is drawn with; the last one
// holds for the rest.
const maxSpans = 256

// maxNear bounds how many spans before and after carry points of one along.
const maxNear = 16

// move takes every point along the courses of the hints in force there, contour
// by contour.
func (f *Fitter) move(d *face.Drawing) {
	points := f.drawn.Points
	f.out.Points, f.out.Ends = append(f.out.Points[:0], points...), d.Outline.Ends
	spans := d.Spans[:min(len(d.Spans), maxSpans)]
	from, span := 0, 0
	for k := 0; from < len(points); k++ {
		end := len(points)
		if k < len(d.Outline.Ends) {
			end = min(max(from, d.Outline.Ends[k]+1), len(points))
		}
		for span+1 < len(spans) && spans[span+1].Point <= from {
			span++
		}
		first := span
		for span+1 < len(spans) && spans[span+1].Point < end {
			span++
		}
		f.moveContour(from, end, spans[min(first, len(spans)):min(span+1, len(spans))])
		from = end
	}
}

// moveContour moves the points of a contour that the given spans draw.
func (f *Fitter) moveContour(from, end int, spans []face.Span) {
	for i := range max(1, len(spans)) {
		to := end
		if i+1 < len(spans) {
			to = min(max(from, spans[i+1].Point), end)
		}
		if from == to {
			continue
		}
		f.x.chart(&f.courseX, spans, i)
		f.y.chart(&f.courseY, spans, i)
		for k := from; k < to; k++ {
			p := &f.drawn.Points[k]
			f.out.Points[k] = glyph.Point{X: f.courseX.at(p.X), Y: f.courseY.at(p.Y), Kind: p.Kind}
		}
		from = to
	}
}

// chart draws up the course of the i-th span of a contour: of the hints in
// force there first those that hold a flat position, then the others, in order
// of declaration; then what is in force elsewhere on the contour, and the
// edges that no hint declares, where they contradict none of these. Those
// carry points that lie between a stem in force and one that was, as in the
// arch of an n drawn under several sets of hints.
func (a *axis) chart(c *course, spans []face.Span, i int) {
	c.start(a)
	if i < len(spans) {
		a.addHints(c, spans[i].Hints, true)
		a.addHints(c, spans[i].Hints, false)
	}
	for k := max(0, i-maxNear); k < min(len(spans), i+maxNear); k++ {
		if k != i {
			a.addHints(c, spans[k].Hints, false)
		}
	}
	for k := range a.stems {
		if a.stems[k].implied {
			c.add(&a.stems[k])
		}
	}
}

func (a *axis) addHints(c *course, hints []int, flatOnly bool) {
	for _, h := range hints[:min(len(hints), 2*maxStems)] {
		if h < 0 || h >= len(a.index) || a.index[h] < 0 {
			continue
		}
		if s := &a.stems[a.index[h]]; !flatOnly || a.flat(s) {
			c.add(s)
		}
	}
}

// flat says that a stem's edge is a zone's flat position itself.
func (a *axis) flat(s *stem) bool {
	if s.zone < 0 {
		return false
	}
	z := &a.zones[s.zone]
	return z.top && s.hi == z.flat || !z.top && s.lo == z.flat
}

// sidle tries every sixteenth of a pixel to both sides for the placement of the
// whole glyph at which its stems are least off, the smallest where several are,
// and places the stems there.
func (a *axis) sidle() {
	const step = pixel / 16
	best, least := fixed.Int26_6(0), int64(-1)
	for n := fixed.Int26_6(0); n < pixel; n += step {
		for _, shift := range [...]fixed.Int26_6{n, -n} {
			a.shift = shift
			a.place()
			if c := a.misfit(); least < 0 || c < least {
				best, least = shift, c
			}
		}
	}
	a.shift = best
	a.place()
}

// misfit sums the squares of what stems are off their wishes and their distances.
func (a *axis) misfit() (sum int64) {
	for i := range a.stems {
		s := &a.stems[i]
		sum += square(s.low - a.wish(s))
		for k := range a.stems {
			if o := &a.stems[k]; s.below(o) && s != o {
				sum += square(o.low - s.low - a.apart(s, o))
			}
		}
	}
	return sum
}
