package diff

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"smokeproof/harness/glyph"
)

// Alone judges a bilevel drawing by its own outline, with nothing approved
// beside it: strokes and bars that have no ink, parts that run together or fall
// apart, counters that closed or opened. Worst first.
func (j *Judge) Alone(c *glyph.Cell, d *glyph.Design, form *Form, ppem glyph.PPEM) []Finding {
	if d == nil || form == nil || c.Bitmap.Depth > 1 || len(form.parts) == 0 {
		return nil
	}
	if c.Bitmap.Empty() {
		return []Finding{{Kind: Missing, Severity: Critical, Score: j.eye.area * (coherentGain + partedGain),
			Place: Place{What: "whole glyph"}, Text: "the outline has ink, but no pixel is drawn"}}
	}
	p := j.planeOf(&c.Bitmap)
	all := p.parts(&j.desk, 0)
	a := alone{j: j, p: &p, d: readOutline(d, ppem, &p, &j.desk), form: form, ppem: ppem, code: c.Code}
	a.lostStrokes(all.body())
	draws := p.matched(form.parts, all.ink, ppem)
	undrawn, surplus := unmatched(form.parts, all.ink, draws)
	undrawn, surplus = a.carried(a.joins(form.parts, all.ink, draws, undrawn), surplus)
	a.counters(unmatched(form.counters, all.counters(), p.matched(form.counters, all.counters(), ppem)))
	a.parts(undrawn, surplus, all.body())
	for i := range a.found {
		a.found[i].inUnits(d.UPEM, ppem)
	}
	return NewReport(a.found).Findings
}

// alone is one drawing under judgement.
type alone struct {
	j     *Judge
	p     *plane
	d     *outline
	form  *Form
	ppem  glyph.PPEM
	code  rune
	join  [][]region // parts of the outline that are one in the drawing
	found []Finding
	large *large // the form laid out; nil until something is asked of it
}

// counters names counters of the outline that the drawing lacks, and white that
// it shuts in where the outline is open.
func (a *alone) counters(undrawn []region, surplus []part) {
	for _, r := range undrawn {
		px := r.area * a.em() * a.em()
		from, open := a.white(r)
		var gaps []box
		if open {
			gaps = a.gaps(from)
		}
		if !open || len(gaps) == 0 && px < 1 { // no pixel holds it; hints carried other white to its place
			a.name(CounterClosed, r, px, fmt.Sprintf("a counter is closed; in the outline it holds %.1f square pixels of white", px))
			continue
		}
		a.nameBreak(a.between(r, gaps), px, "the stroke around a counter is broken"+choose(len(gaps) > 1, fmt.Sprintf(" in %d places", len(gaps)), ""))
	}
	surplus = slices.DeleteFunc(surplus, a.betweenJoined)
	pinhole := func(q part) bool { return len(q.pixels) <= pinholePixels }
	a.shutIn(slices.DeleteFunc(slices.Clone(surplus), pinhole))
	a.pinholes(slices.DeleteFunc(surplus, func(q part) bool { return !pinhole(q) }))
}

// shutIn names white that strokes of a letter surround as they run together, all of it
// in one finding. It weighs by the opening that the outline leaves, up to a pixel.
func (a *alone) shutIn(list []part) {
	if len(list) == 0 {
		return
	}
	white, all := a.united(list)
	open := a.opening(list)
	text := fmt.Sprintf("strokes run together and shut %s of white in, which the outline leaves open", pixelCount(white))
	if open < 1 {
		text += fmt.Sprintf(" by %.1f px", open)
	}
	a.enter(Bridge, all, float64(white), min(1, open), text)
}

// pinholes names specks of white where strokes meet.
func (a *alone) pinholes(list []part) {
	if len(list) > 0 {
		white, all := a.united(list)
		a.name(Edge, all, float64(white), "a pinhole in the ink, as where two strokes meet: "+pixelCount(white)+" of white")
	}
}

// united counts the pixels of parts, and gives the region that holds them.
func (a *alone) united(list []part) (pixels int, all region) {
	all = a.region(list[0])
	for _, q := range list {
		pixels += len(q.pixels)
		all = all.with(a.region(q))
	}
	return pixels, all
}

// parts names parts of the outline that the drawing lacks, and parts that it
// falls into beside the largest, its body.
func (a *alone) parts(undrawn []region, surplus []part, body *part) {
	for _, r := range undrawn {
		px := r.area * a.em() * a.em()
		what := cmp.Or(r.name, "the main part of the letter")
		a.name(Missing, r, px, fmt.Sprintf("%s has no ink; in the outline it covers %.1f square pixels", what, px))
	}
	for _, q := range surplus {
		if a.d.apart(q.box) {
			continue
		}
		what := q.beside(body) + "part"
		if mark := markAt(a.code, what == "upper part"); mark != "" && (what == "upper part" || what == "lower part") {
			what = mark
		}
		off := fmt.Sprintf("the letter falls apart: %s, %s, is parted from the rest; the outline joins them", what, pixelCount(len(q.pixels)))
		a.nameBreak(a.region(q), float64(len(q.pixels)), off)
	}
}

// nameBreak leaves a break to the stroke that was lost, where one was: it says why.
func (a *alone) nameBreak(r region, px float64, text string) {
	for _, f := range a.found {
		if f.Kind == StemLost || f.Kind == BarLost || f.Kind == Break {
			return
		}
	}
	a.name(Break, r, px, text)
}

// name enters a finding. A lack is graded by its area; what covers less than a
// pixel weighs by its side.
func (a *alone) name(kind Kind, r region, px float64, text string) {
	a.enter(kind, r, px, min(1, math.Sqrt(px)), text)
}

// enter enters a finding that weighs by a side of at most a pixel.
func (a *alone) enter(kind Kind, r region, px, side float64, text string) {
	severity := severityOf(kind, side*min(a.j.eye.minutesX, a.j.eye.minutesY))
	switch kind {
	case CounterClosed:
		severity = severityOf(kind, a.j.eye.spot(px))
		if px < 1 { // no pixel can hold it
			severity = min(severity, Minor)
		}
	case Missing:
		severity = spot.of(a.j.eye.spot(px))
	}
	a.found = append(a.found, Finding{
		Kind: kind, MeasurePx: hundredths(px), Severity: severity,
		Score: a.j.eye.area * (coherentGain + partedGain) * side * max(1, math.Sqrt(px)),
		Place: a.place(r), Text: text,
	})
}

// place is where a region should be drawn.
func (a *alone) place(r region) Place {
	emX, emY := a.ppem.Float()
	x0, y0 := int(math.Floor(r.x0*emX)), int(math.Floor(r.y0*emY))
	return Place{x0, y0, max(x0+1, int(math.Ceil(r.x1*emX))), max(y0+1, int(math.Ceil(r.y1*emY))), r.name}
}

func (a *alone) region(q part) region { return a.p.region(&q, a.ppem) }

// em is the side of an em, as a square, in pixels.
func (a *alone) em() float64 { return math.Sqrt(float64(a.ppem.X)*float64(a.ppem.Y)) / 64 }
