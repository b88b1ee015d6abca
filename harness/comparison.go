package harness

import (
	"fmt"
	"time"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// comparison holds one strike's candidates against its goldens.
type comparison struct {
	id      glyph.Strike
	judge   *diff.Judge
	wanted  func(glyph.Ref) bool                   // says of a golden that nothing drew whether it is missing
	design  func(glyph.Ref) *glyph.Design          // nil results where no face is at hand
	outline func(glyph.Ref) *glyph.Outline         // fitted; nil where there is none
	alone   func(*glyph.Cell) []diff.Finding       // what its own outline says of a drawing that nothing is approved of
	fits    bool                                   // the candidates are filled from such outlines
	taken   func(*Change)                          // takes the changes, which are not kept then and have nothing to look at; may be nil
	broken  func(*render.Drawn, *glyph.Cell) error // keeps what the judgement broke down on; may be nil
	lacks   func(glyph.Ref) string                 // face.Lacks; nil where no face is at hand
	out     StrikeResult

	// face.Revision's Reason and SameHints; nil where the font of the golden side is not at hand
	revised     func(glyph.Ref) string
	hintedAlike func(glyph.Ref) bool

	approved *golden.Strike
	goldens  map[glyph.Key]*glyph.Cell // that no candidate has met yet
	since    *since                    // nil where approved is of now
	refs     func() []glyph.Ref        // all glyphs of the face, for since
	former   map[glyph.Key]*glyph.Cell // goldens of since by the names that their glyphs have now; nil where not asked for yet

	settled  int // changes
	shapes   map[[32]byte]original
	suspects []suspect
}

func newComparison(s glyph.Strike, distanceMM float64) *comparison {
	return &comparison{
		id: s,
		out: StrikeResult{StrikeRecord: StrikeRecord{
			Face: s.Face, Device: s.Device, Size: s.Size.String(), DPI: s.DPI.String(), Mode: s.Mode.String(),
		}},
		judge:   diff.NewJudge(diff.Viewing{DPI: s.DPI, DistanceMM: distanceMM}),
		wanted:  func(glyph.Ref) bool { return true },
		design:  func(glyph.Ref) *glyph.Design { return nil },
		outline: func(glyph.Ref) *glyph.Outline { return nil },
		alone:   func(*glyph.Cell) []diff.Finding { return nil },
	}
}

// designOf is nil where the face cannot give it: the judge then goes by the
// bitmaps alone.
func designOf(f face.Face, index int) *glyph.Design {
	d, err := f.Design(index)
	if err != nil {
		return nil
	}
	return d
}

func (c *comparison) hold(approved *golden.Strike, drawn []render.Drawn) (*StrikeResult, error) {
	c.begin(approved, func(glyph.Ref) bool { return false })
	for i := range drawn {
		if err := c.one(&drawn[i]); err != nil {
			return nil, err
		}
	}
	return c.end()
}

// begin takes the goldens; some have met their candidates already.
func (c *comparison) begin(approved *golden.Strike, met func(glyph.Ref) bool) {
	c.approved, c.former = approved, nil
	c.goldens = make(map[glyph.Key]*glyph.Cell, len(approved.Cells))
	for i := range approved.Cells {
		if g := &approved.Cells[i]; !met(g.Ref) {
			c.goldens[g.Key] = g
		}
	}
}

// equal reports whether a candidate is its golden, and approved, and takes it if so.
func (c *comparison) equal(cell *glyph.Cell) bool {
	g := c.goldens[cell.Key]
	if g == nil || !same(g, cell) || !c.approved.Approved(g) {
		return false
	}
	delete(c.goldens, g.Key)
	c.countEqual()
	return true
}

func (c *comparison) countEqual() {
	c.out.Glyphs++
	c.out.Equal++
}

// same reports whether two cells have one bitmap, in one place, and one advance.
func same(a, b *glyph.Cell) bool { return a.Advance == b.Advance && a.Bitmap.Equal(&b.Bitmap) }

// one takes the next candidate.
func (c *comparison) one(d *render.Drawn) error {
	g := c.goldens[d.Cell.Key]
	if g == nil && c.since != nil {
		g = c.formerly(d.Cell.Key)
	}
	c.out.Glyphs++
	if g != nil {
		delete(c.goldens, g.Key)
	}
	had := len(c.out.Changes)
	if approved := g != nil && c.approved.Approved(g); approved || c.since == nil || c.since.goldens[d.Cell.Key] == nil {
		c.guard(d, g, func() { c.glyph(g, approved, d) })
		return c.settle(had, c.approved)
	}
	then := c.since.goldens[d.Cell.Key]
	c.guard(d, then, func() { c.glyph(then, true, d) })
	c.out.ApprovedSince++
	for i := range c.out.Changes[had:] {
		c.out.Changes[had+i].ApprovedSince = c.since.revision
	}
	return c.settle(had, c.since.strike)
}

// formerly is the golden of a revision that a glyph had under another name.
func (c *comparison) formerly(key glyph.Key) *glyph.Cell {
	if c.former == nil {
		c.former = map[glyph.Key]*glyph.Cell{}
		names := namesOf(c.refs(), c.approved.Cells)
		for i := range c.approved.Cells {
			if ref, ok := names.now(c.approved.Cells[i].Ref); ok {
				c.former[ref.Key] = &c.approved.Cells[i]
			}
		}
	}
	return c.former[key]
}

// end adds the goldens that nothing was drawn for.
func (c *comparison) end() (*StrikeResult, error) {
	for i := range c.approved.Cells {
		g := &c.approved.Cells[i]
		if c.goldens[g.Key] == g && c.wanted(g.Ref) {
			had := len(c.out.Changes)
			c.out.Missing++
			c.add(g.Ref, StatusMissing, c.judge.Absent(diff.Missing, g), g, nil)
			if err := c.settle(had, c.approved); err != nil {
				return nil, err
			}
		}
	}
	if err := c.mistaken(); err != nil {
		return nil, err
	}
	return &c.out, c.out.ordered()
}

// settle ends what is to be said of changes by themselves, and puts them on the pile where there is one.
func (c *comparison) settle(from int, approved *golden.Strike) error {
	for i := from; i < len(c.out.Changes); i++ {
		ch := &c.out.Changes[i]
		c.standing(approved, ch)
		if c.taken != nil {
			c.taken(ch)
			continue
		}
		if ch.Status == StatusChanged {
			ch.ApprovedOf = approved.ApprovedOf(ch.stored.Ref)
		}
		c.suspect(ch)
		if c.out.pile != nil {
			c.out.pile.add(ch)
		}
		c.settled++
	}
	if c.taken != nil || c.out.pile != nil {
		c.out.Changes = c.out.Changes[:from]
	}
	if c.out.pile != nil {
		return c.out.pile.err
	}
	return nil
}

// guard judges one glyph; should the judgement break down, it does so for that
// glyph alone.
func (c *comparison) guard(d *render.Drawn, g *glyph.Cell, judge func()) {
	defer func() {
		if cause := recover(); cause != nil {
			c.out.Undrawn++
			broken := render.Drawn{Cell: d.Cell, Err: fmt.Errorf("glyph %q: its judgement: %w", d.Cell.Key, render.BrokeDown(cause))}
			if c.broken != nil {
				if err := c.broken(&broken, g); err != nil {
					broken.Err = err
				}
			}
			c.add(d.Cell.Ref, StatusUndrawn, undrawnReport(&broken), g, nil)
		}
	}()
	judge()
}

// glyph holds a candidate against the bitmap that is stored for it, which
// stands for nothing until somebody has approved it.
func (c *comparison) glyph(g *glyph.Cell, approved bool, d *render.Drawn) {
	switch {
	case d.Err != nil:
		c.out.Undrawn++
		c.add(d.Cell.Ref, StatusUndrawn, undrawnReport(d), g, nil)
	case !approved:
		c.fresh(g, d)
	case same(g, &d.Cell):
		c.out.Equal++
	default:
		p := diff.Pair{Golden: g, Candidate: &d.Cell, Design: c.design(d.Cell.Ref), PPEM: c.id.PPEM()}
		report := c.judge.Compare(p)
		c.out.Changed++
		ch := c.add(d.Cell.Ref, StatusChanged, report, g, &d.Cell)
		c.remark(ch, d)
		if c.taken == nil {
			ch.Weights = packWeights(c.judge.Weights(p))
			c.fitted(ch, d.Cell.Ref, p.Design)
		}
	}
}

// fresh enters a candidate that nobody has approved, with what its own outline says of it. Where
// another bitmap waits in its place, a person looks at both.
func (c *comparison) fresh(g *glyph.Cell, d *render.Drawn) {
	c.out.New++
	var rep diff.Report
	if g != nil {
		all := c.judge.Compare(diff.Pair{Golden: g, Candidate: &d.Cell, PPEM: c.id.PPEM()})
		rep.Lost, rep.Gained = all.Lost, all.Gained
	} else {
		rep = diff.NewReport(c.alone(&d.Cell))
	}
	ch := c.add(d.Cell.Ref, StatusNew, rep, g, &d.Cell)
	if ch.ByHand() {
		c.out.ByHand++
	}
	if g == nil {
		if ch.Astray = c.approved.ApprovedBy(d.Cell.Ref); ch.Astray != "" {
			c.out.Astray++
		}
	}
	c.remark(ch, d)
	if len(rep.Findings) > 0 {
		c.out.AtFault++
		if c.taken == nil {
			c.fitted(ch, d.Cell.Ref, c.design(d.Cell.Ref))
		}
	}
}

// add enters a change; it is good until the next one.
func (c *comparison) add(ref glyph.Ref, status Status, rep diff.Report, g, cand *glyph.Cell) *Change {
	s := &c.out.StrikeRecord
	ch := Change{
		Face: s.Face, Device: s.Device, Size: s.Size, DPI: s.DPI, Mode: s.Mode,
		Glyph: string(ref.Key), Code: int(ref.Code), Index: ref.Index,
		Status: status, Score: rep.Score, Lost: rep.Lost, Gained: rep.Gained,
		Findings: make([]Finding, 0, len(rep.Findings)), cell: cand, stored: g,
	}
	if c.taken == nil {
		ch.Golden, ch.Candidate = packPicture(g), packPicture(cand)
	}
	ch.Digest, ch.Over = digestOf(ch.candidate()), digestOf(g)
	if status != StatusNew {
		ch.Severity = rep.Worst().String()
	}
	for _, f := range rep.Findings {
		ch.Findings = append(ch.Findings, finding(s, ch.Glyph, f))
	}
	c.out.Changes = append(c.out.Changes, ch)
	return &c.out.Changes[len(c.out.Changes)-1]
}

// fitted puts the outline with a change.
func (c *comparison) fitted(ch *Change, ref glyph.Ref, d *glyph.Design) {
	if o := c.outline(ref); o != nil {
		ch.Outline, ch.Bare = svgPath(o), c.fits && isBare(o, d, c.id.PPEM()) && !(c.hintedAlike != nil && c.hintedAlike(ref))
	}
}

// remark notes why a glyph came out so, by what is known best: what of the font is another,
// what it lacks, what the renderer said.
func (c *comparison) remark(ch *Change, d *render.Drawn) {
	if c.revised != nil {
		ch.Note = c.revised(d.Cell.Ref)
	}
	if ch.Note == "" && c.lacks != nil {
		ch.Note = c.lacks(d.Cell.Ref)
	}
	if ch.Note == "" && d.Note != nil {
		ch.Note = d.Note.Error()
	}
}

// standing notes a decision that already speaks about this very bitmap.
func (c *comparison) standing(approved *golden.Strike, ch *Change) {
	d, ok := approved.Standing(glyph.Key(ch.Glyph), ch.Digest)
	if !ok {
		return
	}
	ch.Verdict, ch.DecidedBy, ch.DecidedWhy = string(d.Verdict), d.By, d.Why
	if !d.Until.IsZero() {
		ch.Until = d.Until.Format(time.DateOnly)
	}
}

func undrawnReport(d *render.Drawn) diff.Report {
	return diff.Report{Findings: []diff.Finding{{
		Kind: diff.Undrawn, Severity: diff.Critical, Text: "not drawn: " + d.Err.Error(),
	}}}
}

func finding(s *StrikeRecord, key string, f diff.Finding) Finding {
	return Finding{
		Face: s.Face, Device: s.Device, Size: s.Size, DPI: s.DPI, Glyph: key,
		Finding: string(f.Kind), Severity: f.Severity.String(), Score: f.Score,
		MeasurePx: f.MeasurePx, MeasureFU: f.MeasureFU, Move: Move(f.Move),
		Place: Place{f.Place.X0, f.Place.Y0, f.Place.X1, f.Place.Y1, f.Place.What}, Text: f.Text,
	}
}
