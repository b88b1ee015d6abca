package harness

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"time"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// ApproveOptions say what to decide and on whose word.
type ApproveOptions struct {
	By, Why   string
	Changed   bool           // glyphs that differ from their golden too, not only new ones
	Critical  bool           // even those with a critical finding
	Gone      bool           // instead: drop the goldens of glyphs that the face no longer has
	Renamed   bool           // instead: carry goldens over to the new names of their glyphs
	Stored    bool           // instead: approve bitmaps as they stand in the store, imported or changed by hand
	Verdict   golden.Verdict // Reject and Later are recorded and change no golden; "" is Approve
	Until     time.Time      // for Reject and Later
	Decisions []Decision     // decide these glyphs only, each by name and digest
}

// Decision is one verdict of a person on one candidate, as review exports it.
type Decision struct {
	Face, Device, Size, Glyph string
	Digest                    string // hex, of the candidate that was looked at
	Verdict                   golden.Verdict
	Why                       string
	Until                     time.Time
}

// Approved counts what Approve did, and names what it left alone.
type Approved struct {
	Approved, Rejected, Later, Gone int
	Renamed                         int // goldens that were carried over
	AtFault, Grave                  int // approved now, had no golden, and are at fault by their own outlines; critically
	Equal                           int
	Left                            int      // that differ from their goldens, and nobody asked for those
	Refused                         []string // critical, and nobody said so
	Imported                        []string // the store holds another bitmap that nobody approved
	Stale                           []string // decided on a bitmap that is no longer drawn
	Undrawn                         []string // with the reason
}

// Approve draws every strike and records the chosen candidates as goldens.
// Each strike is written whole or not at all.
func (r *Run) Approve(ctx context.Context, o ApproveOptions) (*Approved, error) {
	a := r.newApproval(o)
	switch {
	case o.Stored:
		return &a.out, a.stored(ctx)
	case o.Renamed:
		return &a.out, a.renamed(ctx)
	}
	err := inOrder(ctx, r.options.Workers, r.strikes, r.cost, alone(r.undecided), func(s *StrikeJob, open *undecidedStrike) error {
		return a.strike(ctx, s, open)
	})
	if err == nil {
		err = a.leaveSettled(ctx)
	}
	for _, d := range a.wanted {
		a.out.Stale = append(a.out.Stale, fmt.Sprintf("%s %s pt %s: %s: nothing to decide", d.Face, d.Size, d.Device, d.Glyph))
	}
	slices.Sort(a.out.Stale)
	return &a.out, err
}

type approval struct {
	run     *Run
	options ApproveOptions
	when    time.Time
	wanted  map[changeKey]*Decision // not met yet
	written map[glyph.Strike]bool   // goldens, whatever the device
	out     Approved
}

func (r *Run) newApproval(o ApproveOptions) *approval {
	a := &approval{run: r, options: o, when: time.Now().UTC().Truncate(time.Second), wanted: map[changeKey]*Decision{}, written: map[glyph.Strike]bool{}}
	for i := range o.Decisions {
		d := &o.Decisions[i]
		a.wanted[d.key()] = d
	}
	return a
}

func (a *approval) strike(ctx context.Context, s *StrikeJob, open *undecidedStrike) error {
	goldens := s.Strike
	goldens.Device = ""     // devices of one resolution have them in common
	if a.written[goldens] { // for another device since, be it before or after the first check read them
		var err error
		if open, err = a.run.undecided(ctx, s); err != nil {
			return err
		}
	}
	a.out.Equal += open.equal
	ds := make([]golden.Decision, 0, len(open.changes))
	for i := range open.changes {
		if d, ok := a.decide(s, &open.changes[i]); ok {
			ds = append(ds, d)
		}
	}
	if a.options.settles() {
		anew, err := a.disputed(ctx, s, open)
		if err != nil {
			return err
		}
		a.out.Equal -= len(anew)
		ds = append(ds, anew...)
	}
	if len(ds) > 0 {
		a.written[goldens] = true
	}
	open.changes = nil // they take memory that the recording needs
	return a.record(ctx, s, ds)
}

// settles says that goldens are decided on anew, not only given to glyphs that have none.
func (o *ApproveOptions) settles() bool {
	return o.Changed && o.Verdict == "" && o.Decisions == nil && !o.Gone
}

// disputed approves the candidates that are drawn as their goldens, but on which two branches
// decided differently.
func (a *approval) disputed(ctx context.Context, s *StrikeJob, open *undecidedStrike) ([]golden.Decision, error) {
	sheet, err := a.run.Store.Sheet(ctx, s.Strike)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	keys := sheet.Approvals().Disputed()
	sheet.Close()
	if len(keys) == 0 {
		return nil, nil
	}
	have, err := a.goldens(ctx, s)
	if err != nil {
		return nil, err
	}
	equal := map[glyph.Key]bool{}
	for _, ref := range s.Glyphs() {
		equal[ref.Key] = true
	}
	for i := range open.changes {
		equal[open.changes[i].cell.Key] = false
	}
	var ds []golden.Decision
	for i := range have.Cells {
		c := &have.Cells[i]
		if equal[c.Key] && slices.Contains(keys, c.Key) {
			d := a.decision(s)
			d.Cell, d.Over = *c, new([sha256.Size]byte)
			*d.Over = c.Digest()
			ds = append(ds, d)
		}
	}
	return ds, nil
}

// leaveSettled passes over decisions that found no change where what they approve stands as golden:
// another device has those goldens too, or the same decisions were begun before and broken off.
func (a *approval) leaveSettled(ctx context.Context) error {
	open := map[StrikeKey]bool{}
	for k := range a.wanted {
		open[k.StrikeKey] = true
	}
	for i := range a.run.strikes {
		s := &a.run.strikes[i]
		strike := strikeKeyOf(s.Strike)
		if !open[strike] {
			continue
		}
		have, err := a.goldens(ctx, s)
		if err != nil {
			return err
		}
		for j := range have.Cells {
			c := &have.Cells[j]
			k := changeKey{strike, string(c.Key)}
			if want := a.wanted[k]; want != nil && want.Verdict == golden.Approve && want.Digest == digestOf(c) && have.Approved(c) {
				delete(a.wanted, k)
			}
		}
	}
	return nil
}

// goldens are those of a strike as they stand.
func (a *approval) goldens(ctx context.Context, s *StrikeJob) (*golden.Strike, error) {
	have, err := a.run.Store.Load(ctx, s.Strike)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	return have, nil
}

// stored approves what is in the store and not approved.
func (a *approval) stored(ctx context.Context) error {
	for i := range a.run.strikes {
		s := &a.run.strikes[i]
		have, err := a.goldens(ctx, s)
		if err != nil {
			return err
		}
		disputed := have.Disputed()
		var ds []golden.Decision
		for j := range have.Cells {
			c := &have.Cells[j]
			switch {
			case !a.run.options.Filter.Glyphs.Has(c.Ref):
			case have.Approved(c) && !slices.Contains(disputed, c.Key):
				a.out.Equal++
			default:
				d := a.decision(s)
				d.Cell, d.Renderer = *c, glyph.Identity{Name: "stored"}
				ds = append(ds, d)
			}
		}
		if err := a.record(ctx, s, ds); err != nil {
			return err
		}
	}
	return nil
}

func (a *approval) record(ctx context.Context, s *StrikeJob, ds []golden.Decision) error {
	if len(ds) == 0 {
		return nil
	}
	count := map[golden.Verdict]int{} // first: while they are written, the decisions themselves are garbage
	for i := range ds {
		count[ds[i].Verdict]++
	}
	if err := a.run.Store.Record(ctx, s.Strike, ds); err != nil {
		return fmt.Errorf("%s: %w", s.Strike, err)
	}
	a.out.Approved += count[golden.Approve]
	a.out.Rejected += count[golden.Reject]
	a.out.Later += count[golden.Later]
	a.out.Gone += count[golden.Gone]
	return nil
}

// decision is what all decisions on a strike have in common.
func (a *approval) decision(s *StrikeJob) golden.Decision {
	return golden.Decision{
		Verdict: golden.Approve, By: a.options.By, Why: a.options.Why, When: a.when,
		FaceDigest: a.run.faces[s.Face.Name].Digest(), Renderer: a.run.devices[s.Device.Name].id,
	}
}

// decide turns one change into a decision, or says that there is none.
func (a *approval) decide(s *StrikeJob, c *undecided) (golden.Decision, bool) {
	d := a.decision(s)
	d.Severity = c.severity
	choose := a.pick
	if a.options.Decisions != nil {
		choose = a.carryOut
	}
	if !choose(&d, c, s) {
		return d, false
	}
	d.Cell = *c.cell
	if d.Verdict == golden.Approve && !c.drawn {
		d.Verdict, d.Cell = golden.Gone, *c.stored
	}
	over := c.over // by itself: a part of it would keep all changes in memory
	d.Over = &over
	if c.status == StatusNew && d.Verdict == golden.Approve && c.worst != "" {
		a.out.AtFault++
		if c.worst == diff.Critical.String() {
			a.out.Grave++
		}
	}
	return d, true
}

// carryOut looks for what a person decided on this candidate.
func (a *approval) carryOut(d *golden.Decision, c *undecided, s *StrikeJob) bool {
	k := changeKey{strikeKeyOf(s.Strike), string(c.cell.Key)}
	want := a.wanted[k]
	if want == nil {
		return false
	}
	delete(a.wanted, k)
	if want.Digest != digestOf(c.cell) {
		a.out.Stale = append(a.out.Stale, c.in(s)+": drawn differently since it was decided")
		return false
	}
	if c.status == StatusUndrawn && want.Verdict == golden.Approve {
		a.out.Undrawn = append(a.out.Undrawn, c.in(s)+": "+c.fault)
		return false
	}
	d.Verdict, d.Until = want.Verdict, want.Until
	if want.Why != "" {
		d.Why = want.Why
	}
	return true
}

// pick goes by the flags: what is new, or what was asked for.
func (a *approval) pick(d *golden.Decision, c *undecided, s *StrikeJob) bool {
	o := &a.options
	if o.Verdict != "" {
		d.Verdict, d.Until = o.Verdict, o.Until
	}
	switch {
	case o.Gone:
		return c.status == StatusMissing
	case d.Verdict != golden.Approve:
		return true
	case c.status == StatusMissing:
		return false
	case c.status == StatusUndrawn:
		a.out.Undrawn = append(a.out.Undrawn, c.in(s)+": "+c.fault)
		return false
	case c.status == StatusChanged && !o.Changed:
		a.out.Left++
		return false
	case c.byHand && !o.Changed:
		a.out.Imported = append(a.out.Imported, c.in(s))
		return false
	case c.severity == "critical" && !o.Critical:
		a.out.Refused = append(a.out.Refused, c.in(s))
		return false
	}
	return true
}
