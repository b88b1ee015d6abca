package diff_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// plan is an outline of rectangles, in font units of 100 to the em: ink, then
// the white cut out of it.
type plan struct{ ink, white [][4]int }

// design turns a plan into contours, ink clockwise, Y up.
func (p plan) design() *glyph.Design {
	d := &glyph.Design{UPEM: 100, Advance: 100}
	ring := func(r [4]int, clockwise bool) {
		xs, ys := [4]int{r[0], r[0], r[2], r[2]}, [4]int{r[1], r[3], r[3], r[1]}
		for i := range 4 {
			k := i
			if !clockwise {
				k = 3 - i
			}
			d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(xs[k]), Y: fixed.I(ys[k]), Kind: glyph.OnCurve})
		}
		d.Outline.Ends = append(d.Outline.Ends, len(d.Outline.Points)-1)
	}
	for _, r := range p.ink {
		ring(r, true)
	}
	for _, r := range p.white {
		ring(r, false)
	}
	return d
}

// bitmap fills the pixels whose centres lie in the plan, at so many pixels an em.
func (p plan) bitmap(em int) glyph.Bitmap {
	b := glyph.NewBitmap(0, 0, 2*em, 2*em, 1)
	within := func(i, from, to int) bool { c := (2*i + 1) * 100; return c >= 2*from*em && c < 2*to*em }
	for y := range b.Height {
		for x := range b.Width {
			in := func(r [4]int) bool { return within(x, r[0], r[2]) && within(y, r[1], r[3]) }
			if slices.ContainsFunc(p.ink, in) && !slices.ContainsFunc(p.white, in) {
				b.Set(x, y, 1)
			}
		}
	}
	return b
}

// form is that of a glyph of the plan.
func (p plan) form(code rune) *diff.Form {
	return at(300).Form(&glyph.Cell{Ref: glyph.Ref{Code: code}, Advance: 128, Bitmap: p.bitmap(128)})
}

var (
	planH      = plan{ink: [][4]int{{0, 0, 20, 120}, {80, 0, 100, 120}, {20, 60, 80, 70}}}
	planO      = plan{ink: [][4]int{{0, 0, 100, 120}}, white: [][4]int{{20, 20, 80, 100}}}
	planI      = plan{ink: [][4]int{{0, 0, 20, 80}, {0, 100, 20, 120}}}
	planTheta  = plan{ink: [][4]int{{0, 0, 100, 20}, {0, 100, 100, 120}, {0, 20, 20, 100}, {80, 20, 100, 100}, {40, 40, 60, 80}}}
	planBars   = plan{ink: [][4]int{{0, 0, 60, 10}, {0, 30, 60, 40}}}
	planAccent = plan{ink: [][4]int{{0, 0, 60, 80}, {10, 90, 50, 100}}}
	// of parts alike, the one named last is the rest
	planEqual = plan{ink: [][4]int{{0, 0, 20, 80}, {50, 0, 70, 80}}}
)

// at10 draws a plan at 10 pixels an em and lets a hand spoil it.
func at10(p plan, v uint8, boxes ...[4]int) *glyph.Cell {
	c := &glyph.Cell{Advance: 10, Bitmap: p.bitmap(10)}
	for _, r := range boxes {
		for y := r[1]; y < r[3]; y++ {
			for x := r[0]; x < r[2]; x++ {
				c.Bitmap.Set(x, y, v)
			}
		}
	}
	return c
}

func TestADrawingIsJudgedByItsOwnOutline(t *testing.T) {
	for _, c := range []struct {
		reason string
		plan   plan
		cell   *glyph.Cell
		kind   diff.Kind // "" for none
		text   string
	}{
		{"drawn as it is", planH, at10(planH, 0), "", ""},
		{"a ring drawn as it is", planO, at10(planO, 0), "", ""},
		{"a bar a row lower is where hints put it", planH, at10(at10Moved(), 0), "", ""},
		{"the bar has no ink, which also parts the letter: one finding", planH, at10(planH, 0, [4]int{2, 6, 8, 7}),
			diff.BarLost, "crossbar has no ink; in the outline it is 10 units thick, 1 px"},
		{"a gap in the bar parts the letter, the bar is there", planH, at10(planH, 0, [4]int{4, 6, 5, 7}),
			diff.Break, "the letter falls apart: left part, 26 pixels, is parted from the rest; the outline joins them"},
		{"ink fills the counter", planO, at10(planO, 1, [4]int{2, 2, 8, 10}),
			diff.CounterClosed, "a counter is closed; in the outline it holds 47.3 square pixels of white"},
		{"the ring is cut", planO, at10(planO, 0, [4]int{4, 0, 5, 2}), diff.Break, "the stroke around a counter is broken"},
		{"ink at the foot shuts the open white in", planH, at10(planH, 1, [4]int{2, 0, 8, 1}),
			diff.Bridge, "strokes run together and shut 30 pixels of white in, which the outline leaves open"},
		{"ink leaves a speck of white where strokes meet", planH, at10(planH, 1, [4]int{2, 7, 8, 8}, [4]int{2, 9, 8, 10}, [4]int{2, 8, 7, 9}),
			diff.Edge, "a pinhole in the ink, as where two strokes meet: 1 pixel of white"},
		{"dot and stem are one", planI, at10(planI, 1, [4]int{0, 8, 2, 10}),
			diff.Bridge, "upper dot runs into the rest; the outline holds them 2.0 px apart"},
		{"two strokes alike are one", planEqual, at10(planEqual, 1, [4]int{2, 7, 5, 8}),
			diff.Bridge, "right part runs into the rest; the outline holds them 3.0 px apart"},
		{"the dot is gone", planI, at10(planI, 0, [4]int{0, 10, 2, 12}),
			diff.Missing, "upper dot has no ink; in the outline it covers 4.1 square pixels"},
		{"a bar stands in the ring, which is cut", planTheta, at10(planTheta, 0, [4]int{0, 5, 2, 6}), diff.Break, "the stroke around a counter is broken"},
		{"two bars a row higher are where hints put them", planBars, at10(plan{ink: [][4]int{{0, 20, 60, 30}, {0, 50, 60, 60}}}, 0), "", ""},
		{"an accent a row lower is on its letter", planAccent, at10(plan{ink: [][4]int{{0, 0, 60, 80}, {10, 80, 50, 90}}}, 0),
			diff.Bridge, "upper part runs into the rest; the outline holds them 1.0 px apart"},
		{"nothing is drawn", planI, at10(plan{}, 0), diff.Missing, "the outline has ink, but no pixel is drawn"},
	} {
		found := at(300).Alone(c.cell, c.plan.design(), c.plan.form('i'), tenPPEM)
		if c.kind == "" {
			require.Empty(t, found, c.reason)
			continue
		}
		require.NotEmpty(t, found, c.reason)
		require.Equal(t, c.kind, found[0].Kind, "%s: %+v", c.reason, found)
		require.Equal(t, c.text, found[0].Text, c.reason)
		require.Equal(t, severityOf(c.kind), found[0].Severity, c.reason)
		require.Len(t, found, 1, "%s: %+v", c.reason, found)
	}
}

func at10Moved() plan {
	return plan{ink: [][4]int{{0, 0, 20, 120}, {80, 0, 100, 120}, {20, 50, 80, 60}}}
}

func TestGreyDrawingsAndGlyphsWithoutInkHaveNoFormToKeep(t *testing.T) {
	grey := at10(planH, 0)
	grey.Bitmap.Depth = 8
	require.Empty(t, at(300).Alone(grey, planH.design(), planH.form('H'), tenPPEM), "hairlines of half coverage are no breaks")
	require.Empty(t, at(300).Alone(at10(plan{}, 0), plan{}.design(), plan{}.form(' '), tenPPEM), "a space")
}

func TestLettersKeepCompanyWithTheirScript(t *testing.T) {
	list := strikeOf(box(drawn(letterH), 1, 2, 0, 3, 12))
	last := list[len(list)-1].Cell
	last.Code = 0x2190
	_, found := at(300).Set(8000, tenPPEM, list)
	require.Empty(t, found, "an arrow need not be as heavy as letters")
	last.Code = 'D'
	_, found = at(300).Set(8000, tenPPEM, list)
	require.NotEmpty(t, found)
}

// severityOf is what these faults are at 300 dpi.
func severityOf(k diff.Kind) diff.Severity {
	if k == diff.Edge {
		return diff.Minor
	}
	return diff.Critical
}

// What the outline holds apart by less than FormPPEM shows is one part in the form.
func TestWhatTheOutlineHoldsApartByAHairMayBeDrawnApart(t *testing.T) {
	accent := func(low int) plan { return plan{ink: [][4]int{{0, 0, 60, 80}, {10, low, 50, low + 20}}} }
	for _, c := range []struct {
		reason string
		low    int // of the accent, over a letter that ends at 80
		kind   diff.Kind
	}{
		{"an accent of its own contour, a hundredth of an em above its letter", 81, ""},
		{"one that overlaps its letter", 78, diff.Break},
		{"one that touches its letter", 80, diff.Break},
	} {
		found := at(300).Alone(at10(accent(90), 0), accent(c.low).design(), accent(80).form('e'), tenPPEM)
		if c.kind == "" {
			require.Empty(t, found, c.reason)
			continue
		}
		require.Len(t, found, 1, c.reason)
		require.Equal(t, c.kind, found[0].Kind, c.reason)
	}
}

func TestABreakIsPlacedWhereTheStrokeIsOpen(t *testing.T) {
	for _, c := range []struct {
		reason string
		cut    [4]int
		place  diff.Place
		text   string
	}{
		{"a cut at the foot", [4]int{4, 0, 5, 2}, diff.Place{X0: 4, Y0: 0, X1: 5, Y1: 1}, "the stroke around a counter is broken"},
		{"a cut from side to side", [4]int{0, 6, 10, 7}, diff.Place{X0: 0, Y0: 6, X1: 10, Y1: 7}, "the stroke around a counter is broken in 2 places"},
	} {
		found := alone(planO, 'o', at10(planO, 0, c.cut))
		require.NotEmpty(t, found, c.reason)
		i := slices.IndexFunc(found, func(f diff.Finding) bool { return f.Text == c.text })
		require.GreaterOrEqual(t, i, 0, "%s: %+v", c.reason, found)
		require.Equal(t, c.place, found[i].Place, c.reason)
	}
}

func TestABarThatHintsCarriedAwayIsMisplacedAndNotLost(t *testing.T) {
	twenty := glyph.PPEM{X: 1280, Y: 1280}
	barAt := func(low int) plan {
		return plan{ink: [][4]int{{0, 0, 20, 120}, {80, 0, 100, 120}, {20, low, 80, low + 10}}}
	}
	for _, c := range []struct {
		reason string
		low    int
		kind   diff.Kind
		text   string
	}{
		{"a pixel higher is where hints put it", 65, "", ""},
		{"four higher is not", 80, diff.Moved, "crossbar stands 4 px higher than in the outline"},
		{"four lower", 40, diff.Moved, "crossbar stands 4 px lower than in the outline"},
		{"so far away it is another bar", 95, diff.BarLost, "crossbar has no ink; in the outline it is 10 units thick, 2 px"},
	} {
		found := at(300).Alone(&glyph.Cell{Bitmap: barAt(c.low).bitmap(20)}, planH.design(), planH.form('H'), twenty)
		if c.kind == "" {
			require.Empty(t, found, c.reason)
			continue
		}
		require.Len(t, found, 1, "%s: %+v", c.reason, found)
		require.Equal(t, c.kind, found[0].Kind, c.reason)
		require.Equal(t, c.text, found[0].Text, c.reason)
		require.Equal(t, 2, found[0].Place.Y1-found[0].Place.Y0, c.reason)
	}
}

func TestAPartThatHintsCarriedFarFromItsPlaceIsNotGone(t *testing.T) {
	twenty := glyph.PPEM{X: 1280, Y: 1280}
	macronAt := func(low int) plan { return plan{ink: [][4]int{{0, low, 60, low + 10}}} }
	dotAt := func(low int) plan { return plan{ink: [][4]int{{0, 0, 20, 60}, {0, low, 20, low + 20}}} }
	for _, c := range []struct {
		reason        string
		outline, draw plan
		kinds         []diff.Kind
		text          string
	}{
		{"all that the glyph has, five rows down", macronAt(50), macronAt(25), []diff.Kind{diff.Moved}, "the glyph stands 5 px lower than in the outline"},
		{"a dot, six up", dotAt(80), dotAt(110), []diff.Kind{diff.Moved}, "upper dot stands 6 px higher than in the outline"},
		{"so far away it is another", dotAt(80), dotAt(125), []diff.Kind{diff.Missing, diff.Break}, "upper dot has no ink; in the outline it covers 16.5 square pixels"},
		{"a piece of the stem is no dot", dotAt(80), plan{ink: [][4]int{{0, 0, 20, 40}, {0, 43, 20, 60}}}, []diff.Kind{diff.Missing, diff.Break}, "upper dot has no ink; in the outline it covers 16.5 square pixels"},
	} {
		found := at(300).Alone(&glyph.Cell{Bitmap: c.draw.bitmap(20)}, c.outline.design(), c.outline.form('i'), twenty)
		var kinds []diff.Kind
		for _, f := range found {
			kinds = append(kinds, f.Kind)
		}
		require.ElementsMatch(t, c.kinds, kinds, "%s: %+v", c.reason, found)
		i := slices.IndexFunc(found, func(f diff.Finding) bool { return f.Text == c.text })
		require.GreaterOrEqual(t, i, 0, "%s: %+v", c.reason, found)
		require.Equal(t, found[i].Kind == diff.Moved, found[i].Move != diff.Move{}, c.reason)
	}
}

func TestAnEyeThatNoPixelHoldsIsClosedAndNoStrokeBroken(t *testing.T) {
	// a ring with a stem in it, which has an eye of half a pixel; hints carried the stem aside
	eye := plan{ink: [][4]int{{0, 0, 100, 120}, {40, 20, 60, 80}}, white: [][4]int{{20, 20, 80, 100}, {46, 30, 53, 37}}}
	d := eye.design()
	form := plan{ink: [][4]int{{0, 0, 100, 20}, {0, 100, 100, 120}, {0, 20, 20, 100}, {80, 20, 100, 100}, {40, 20, 60, 80}}, white: [][4]int{{46, 30, 53, 37}}}.form('o')
	found := at(300).Alone(at10(plan{ink: [][4]int{{0, 0, 100, 20}, {0, 100, 100, 120}, {0, 20, 20, 100}, {80, 20, 100, 100}, {60, 20, 80, 80}}}, 0), d, form, tenPPEM)
	require.NotEmpty(t, found)
	i := slices.IndexFunc(found, func(f diff.Finding) bool { return f.Kind == diff.CounterClosed })
	require.GreaterOrEqual(t, i, 0, "%+v", found)
	require.Equal(t, diff.Minor, found[i].Severity)
	require.False(t, slices.ContainsFunc(found, func(f diff.Finding) bool { return f.Kind == diff.Break }), "%+v", found)
}

func TestAMarkThatFallsOffIsNamed(t *testing.T) {
	tailed := plan{ink: [][4]int{{0, 20, 60, 100}, {20, 0, 40, 20}}}
	for code, want := range map[rune]string{
		'ç': "the letter falls apart: cedilla, 2 pixels, is parted from the rest; the outline joins them",
		'p': "the letter falls apart: lower part, 2 pixels, is parted from the rest; the outline joins them",
	} {
		c := at10(tailed, 0, [4]int{2, 1, 4, 2})
		c.Code = code
		found := alone(tailed, code, c)
		require.Len(t, found, 1, "%+v", found)
		require.Equal(t, want, found[0].Text)
	}
}
