package harness

import (
	"context"
	"fmt"
	"time"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// act is one decision of one person that can be taken back.
type act struct {
	done   []affected
	undone bool
}

// Undo takes one act back: goldens and standing decisions become what they were before
// it. It does so by new decisions, as what was approved stays on record. Glyphs on which
// somebody has decided since are left alone.
func (d *Desk) Undo(ctx context.Context, by string, number int) (*Decided, error) {
	if by == "" {
		return nil, fmt.Errorf("%w: nobody is named as taking back; give a name", ErrUsage)
	}
	d.work.Lock()
	defer d.work.Unlock()
	if number < 1 || number > len(d.acts) || d.acts[number-1].undone {
		return nil, fmt.Errorf("%w: there is no decision %d to take back", ErrUsage, number)
	}
	a := &d.acts[number-1]
	out := &Decided{Left: []string{}}
	store := golden.Open(d.Plan().Goldens)
	store.Gzip = d.Plan().Gzip
	byStrike := map[glyph.Strike][]*affected{}
	var order []glyph.Strike
	for i := range a.done {
		s := a.done[i].strike
		if byStrike[s] == nil {
			order = append(order, s)
		}
		byStrike[s] = append(byStrike[s], &a.done[i])
	}
	var restored []affected
	for _, s := range order {
		some, err := undoStrike(ctx, store, s, byStrike[s], by, out)
		restored = append(restored, some...)
		if err != nil {
			d.show(restored)
			return out, err
		}
	}
	a.undone = true
	out.Done = len(restored)
	d.show(restored)
	return out, nil
}

// undoStrike takes back what was done to one strike and gives the glyphs as they
// are shown again.
func undoStrike(ctx context.Context, store *golden.Store, s glyph.Strike, as []*affected, by string, out *Decided) ([]affected, error) {
	now, err := store.Load(ctx, s)
	if err != nil {
		return nil, err
	}
	var ds []golden.Decision
	var restored []affected
	for _, a := range as {
		check := *a
		if !check.written(now) || check.over != a.over {
			out.Left = append(out.Left, fmt.Sprintf("%s at %s pt: decided by somebody else since", a.change.Glyph, a.change.Size))
			continue
		}
		d, err := a.back(now)
		if err != nil {
			return nil, err
		}
		d.By, d.Why, d.When = by, "taken back: "+a.why, time.Now().UTC().Truncate(time.Second)
		ds = append(ds, d)
		back := *a
		back.verdict, back.until = a.change.Verdict, a.change.Until
		restored = append(restored, back)
	}
	if len(ds) == 0 {
		return nil, nil
	}
	if err := store.Record(ctx, s, ds); err != nil {
		return nil, fmt.Errorf("%s: %w", s, err)
	}
	return restored, nil
}

// back is the decision that makes up for one: the golden before it, or none; for
// a candidate rejected or put off the word that stood before, or an end date
// that has passed.
func (a *affected) back(now *golden.Strike) (golden.Decision, error) {
	key := glyph.Key(a.change.Glyph)
	if golden.Verdict(a.verdict) == golden.Approve {
		if a.golden != nil {
			return golden.Decision{Verdict: golden.Approve, Cell: *a.golden}, nil
		}
		return golden.Decision{Verdict: golden.Gone, Cell: *cellIn(now.Cells, key)}, nil
	}
	d := golden.Decision{Verdict: golden.Later, Until: time.Now().UTC().AddDate(0, 0, -1).Truncate(24 * time.Hour), Cell: *a.change.candidate()}
	var err error
	if p := a.change.Candidate; p != nil {
		d.Cell.Advance = p.Advance
		if d.Cell.Bitmap, err = p.Unpack(); err != nil {
			return d, err
		}
	}
	if a.change.Verdict != "" {
		d.Verdict, d.Until = golden.Verdict(a.change.Verdict), time.Time{}
		if a.change.Until != "" {
			d.Until, err = time.Parse(time.DateOnly, a.change.Until)
		}
	}
	return d, err
}
