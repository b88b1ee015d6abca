package harness

import (
	"context"
	"slices"
	"sync"
)

// Desk is the results of a plan while people decide on them: each decision is
// written at once, and what a saved font or a rebuilt renderer touches is drawn
// again. It is safe for many goroutines.
type Desk struct {
	work sync.Mutex // one decision, undo or redraw at a time
	acts []act      // what can be undone, in order

	mu      sync.Mutex // guards what follows
	plan    *Plan
	options Options
	results *Results         // replaced, never altered
	drawn   map[string]saved // the files as they were when the results were drawn
	version int
	later   chan struct{} // closed at the next version
}

// NewDesk lays out the results of a plan. The options' filter is not used.
func NewDesk(p *Plan, res *Results, o Options) *Desk {
	return &Desk{plan: p, options: o, results: res, drawn: savedAll(p), version: 1, later: make(chan struct{})}
}

// Results returns the results as they stand, which nobody may alter, their version, and
// a channel that is closed when there is a later version.
func (d *Desk) Results() (res *Results, version int, later <-chan struct{}) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.results, d.version, d.later
}

// Plan is the plan as it was last read.
func (d *Desk) Plan() *Plan {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.plan
}

func (d *Desk) drawnFrom() (*Plan, map[string]saved) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.plan, d.drawn
}

func (d *Desk) publish(p *Plan, res *Results, drawn map[string]saved) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.plan, d.results, d.drawn = p, res, drawn
	d.version++
	close(d.later)
	d.later = make(chan struct{})
}

// show publishes the results with some changes' standing decisions replaced.
func (d *Desk) show(as []affected) {
	if len(as) == 0 {
		return
	}
	res, _, _ := d.Results()
	next := *res
	next.Changes = slices.Clone(res.Changes)
	at := make(map[changeKey]int, len(next.Changes))
	for i := range next.Changes {
		at[next.Changes[i].key()] = i
	}
	for i := range as {
		if j, ok := at[as[i].change.key()]; ok {
			next.Changes[j].Verdict, next.Changes[j].Until = as[i].verdict, as[i].until
		}
	}
	plan, drawn := d.drawnFrom()
	d.publish(plan, &next, drawn)
}

// Redraw reads the plan again and checks the named faces, or all of them where none is
// named. The results are then those of the new plan.
func (d *Desk) Redraw(ctx context.Context, faces []string) error {
	d.work.Lock()
	defer d.work.Unlock()
	plan, err := LoadPlan(d.Plan().Path)
	if err != nil {
		return err
	}
	_, before := d.drawnFrom()
	drawn := savedAll(plan) // looked at first: what is saved while it is drawn is seen next time
	for i := range plan.Faces {
		if f := &plan.Faces[i]; len(faces) > 0 && !slices.Contains(faces, f.Name) {
			drawn[f.File] = before[f.File]
		}
	}
	o := d.options
	o.Filter = Filter{Faces: faces}
	r, err := Open(ctx, plan, o)
	if err != nil {
		return err
	}
	defer r.Close()
	old, _, _ := d.Results()
	next := &Results{Header: old.Header, Summary: *NewSummary()}
	next.Gate, next.DistanceMM = plan.Gate.String(), plan.DistanceMM
	add := func(s *StrikeResult) error {
		next.Strikes = append(next.Strikes, s.StrikeRecord)
		next.Changes = append(next.Changes, s.Changes...)
		next.Summary.Add(s, plan.Gate)
		return nil
	}
	for _, s := range old.apart() {
		if len(faces) > 0 && !slices.Contains(faces, s.Face) {
			add(s)
		}
	}
	if err := r.checkWhole(ctx, add); err != nil {
		return err
	}
	d.publish(plan, next, drawn)
	return nil
}

// apart gives the results strike by strike.
func (r *Results) apart() []*StrikeResult {
	out := make([]*StrikeResult, len(r.Strikes))
	at := map[StrikeKey]*StrikeResult{}
	for i, s := range r.Strikes {
		out[i] = &StrikeResult{StrikeRecord: s}
		at[s.StrikeKey()] = out[i]
	}
	for i := range r.Changes {
		c := &r.Changes[i]
		if s := at[c.StrikeKey()]; s != nil {
			s.Changes = append(s.Changes, *c)
		}
	}
	return out
}
