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
const maxSpans = 1024

// move takes every point along the courses of the hints in force there.
func (f *Fitter) move(d *face.Drawing) {
	points := f.drawn.Points
	f.out.Points, f.out.Ends = append(f.out.Points[:0], points...), d.Outline.Ends
	from := 0
	for i := range min(max(1, len(d.Spans)), maxSpans) {
		var hints []int
		if i < len(d.Spans) {
			hints = d.Spans[i].Hints
		}
		to := len(points)
		if i+1 < min(len(d.Spans), maxSpans) {
			to = min(max(from, d.Spans[i+1].Point), len(points))
		}
		if from < to {
			f.x.chart(&f.courseX, hints)
			f.y.chart(&f.courseY, hints)
			for k := from; k < to; k++ {
				p := &points[k]
				f.out.Points[k] = glyph.Point{X: f.courseX.at(p.X), Y: f.courseY.at(p.Y), Kind: p.Kind}
			}
		}
		from = to
	}
}

// chart draws a course up: the hints in force in order of declaration, then
// the glyph's other stems where they contradict none of these. Those carry
// points that lie between a stem in force and one that was, as in the arch of
// an n drawn under several sets of hints.
func (a *axis) chart(c *course, hints []int) {
	c.start(a)
	for _, h := range hints[:min(len(hints), 2*maxStems)] {
		if h >= 0 && h < len(a.index) && a.index[h] >= 0 {
			c.add(&a.stems[a.index[h]])
		}
	}
	for i := range a.stems {
		c.add(&a.stems[i])
	}
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
