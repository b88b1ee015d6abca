package stems

import (
	"slices"

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
	held             []hold        // by point, along X
	aligned          []alignedPoint
	leftward         bool         // outer contours have their ink at the left
	outers           []box        // of outer contours
	measured         []contour    // of the drawing
	flanks           []flank      // of the drawing; none where X is only scaled
	free             []*extremeAt // of the drawing's, those that stand on no row
	standing         []edgeAt     // and those that stand on one
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
	f.measureContours()
	f.x.lookForSheer(f)
	f.y.lookForSheer(f)
	if f.x.fitted {
		f.lookForFlanks()
		f.findUndeclared(d.Hints[:min(len(d.Hints), maxHints)])
	}
	f.lookForExtremes()
	f.x.take(d)
	f.y.take(d)
	if f.x.fitted {
		f.takeBalls(d.Hints[:min(len(d.Hints), maxHints)])
	}
	f.x.house(f)
	f.y.house(f)
	f.aligned = f.aligned[:0]
	f.implyEdges()
	f.y.noteEdges()
	f.x.implyGroups()
	f.y.implyGroups()
	f.y.place()
	f.fitAcross(d)
	if len(f.x.groups) > f.x.declared && f.bearingOff() {
		f.x.groups = f.x.groups[:f.x.declared]
		f.fitAcross(d)
	}
	return &f.out
}

// fitAcross places the upright stems and moves the points.
func (f *Fitter) fitAcross(d *face.Drawing) {
	if f.options.Sideways {
		f.x.sidle()
	} else {
		f.x.place()
	}
	f.move(d)
}

// bearingOff says that the outline reaches more than a pixel further along X than if it
// were only scaled, or falls short of that by more.
func (f *Fitter) bearingOff() bool {
	drawn, out := boxOf(f.drawn.Points), boxOf(f.out.Points)
	return f.x.off(out.x0, drawn.x0) > pixel || f.x.off(out.x1, drawn.x1) > pixel
}

// maxSpans bounds the sets of hints that one glyph is drawn with; the last one
// holds for the rest.
const maxSpans = 256

// move takes every point along the courses of the hints in force there, contour
// by contour.
func (f *Fitter) move(d *face.Drawing) {
	points := f.drawn.Points
	f.out.Points, f.out.Ends = append(f.out.Points[:0], points...), d.Outline.Ends
	f.held = slices.Grow(f.held[:0], len(points))[:len(points)]
	spans := d.Spans[:min(len(d.Spans), maxSpans)]
	span, k := 0, 0
	f.contours(func(from, end int) {
		f.x.touch(&f.x.tracks[k])
		f.y.touch(&f.y.tracks[k])
		k++
		for span+1 < len(spans) && spans[span+1].Point <= from {
			span++
		}
		first := span
		for span+1 < len(spans) && spans[span+1].Point < end {
			span++
		}
		f.moveContour(from, end, spans[min(first, len(spans)):min(span+1, len(spans))])
	})
	for _, a := range f.aligned {
		f.out.Points[a.point].Y = a.y
	}
	f.findTips()
	f.keepWhite()
	f.keepUpright()
	f.keepApart()
	f.pairSerifs()
}

// contours goes through the drawing's contours, whatever their ends say.
func (f *Fitter) contours(each func(from, end int)) {
	from := 0
	for k := 0; from < len(f.drawn.Points); k++ {
		end := len(f.drawn.Points)
		if k < len(f.drawn.Ends) {
			end = min(max(from, f.drawn.Ends[k]+1), end)
		}
		each(from, end)
		from = end
	}
}

// moveContour moves the points of a contour that the given spans draw.
func (f *Fitter) moveContour(from, end int, spans []face.Span) {
	first := from
	for i := range max(1, len(spans)) {
		to := end
		if i+1 < len(spans) {
			to = min(max(from, spans[i+1].Point), end)
		}
		if from == to {
			continue
		}
		f.x.chart(&f.courseX, spans, i, stretch{from, to})
		f.y.chart(&f.courseY, spans, i, stretch{from, to})
		for k := from; k < to; k++ {
			p := &f.drawn.Points[k]
			f.out.Points[k] = glyph.Point{X: f.courseX.at(p.X), Y: f.courseY.at(p.Y), Kind: p.Kind}
			f.held[k] = f.courseX.holdAt(p.X)
		}
		from = to
	}
	f.excursions(first, end)
}

// track is where the points of a contour are along an axis, sorted, and its box.
type track struct {
	coordinates []fixed.Int26_6
	box         box
}

// house lists the tracks of all contours, and notes for each stem that a contour is its
// home, where the contour has points on both of its edges.
func (a *axis) house(f *Fitter) {
	a.tracks = a.tracks[:0]
	all := slices.Grow(a.coordinates[:0], len(f.drawn.Points))
	f.contours(func(from, end int) {
		points, first := f.drawn.Points[from:end], len(all)
		for i := range points {
			if at := *along(&points[i], a.axis); i == 0 || at != all[len(all)-1] {
				all = append(all, at)
			}
		}
		slices.Sort(all[first:])
		t := track{all[first:], boxOf(points)}
		a.tracks = append(a.tracks, t)
		a.touch(&t)
		for i := range a.stems {
			if s := &a.stems[i]; s.touches {
				s.home = s.home.union(t.box)
			}
		}
	})
	a.coordinates = all
}

// touch takes a contour in hand, and notes which stems have both edges among its points.
func (a *axis) touch(t *track) {
	a.contour = t.box
	least, most := t.box.along(a.axis)
	for i := range a.stems {
		s := &a.stems[i]
		if s.touches = least <= s.lo && s.hi <= most; s.touches {
			_, lo := slices.BinarySearch(t.coordinates, s.lo)
			_, hi := slices.BinarySearch(t.coordinates, s.hi)
			s.touches = lo && hi
		}
	}
}
