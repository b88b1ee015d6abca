package harness

import (
	"context"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"
)

// inOrder works on strikes in parallel and hands the outcomes on in order. Once all
// strikes are let in, the dearest of those that wait is begun first, so that no core is
// left alone with it at the end; cost need only be right in proportion.
func inOrder[T any](ctx context.Context, workers int, strikes []StrikeJob, cost func(*StrikeJob) int64,
	work worker[T], yield func(*StrikeJob, T) error) error {
	g, ctx := errgroup.WithContext(ctx)
	o := newOrder[T](strikes, workers, cost)
	defer context.AfterFunc(ctx, o.stop)()
	for range workers {
		g.Go(func() error {
			for {
				t := o.begin()
				if t == nil {
					return ctx.Err()
				}
				group := []*task[T]{t}
				out, err := work(ctx, t.strike, func(alike func(*StrikeJob) bool) (strikes []*StrikeJob) {
					for _, more := range o.take(t.strike.Face, alike) {
						group, strikes = append(group, more), append(strikes, more.strike)
					}
					return strikes
				})
				if err != nil {
					return err
				}
				o.finish(group, out)
			}
		})
	}
	g.Go(func() error {
		for {
			t := o.next()
			if t == nil {
				return ctx.Err()
			}
			if err := yield(t.strike, t.out); err != nil {
				return err
			}
		}
	})
	return g.Wait()
}

// worker works on a strike, and on the others of its face that it takes. It returns the
// outcomes of all of them, in order.
type worker[T any] func(_ context.Context, _ *StrikeJob, take taker) ([]T, error)

// taker gives other strikes of the face that are alike and not begun yet.
type taker func(alike func(*StrikeJob) bool) []*StrikeJob

// alone is a worker that takes no more than it is given.
func alone[T any](work func(context.Context, *StrikeJob) (T, error)) worker[T] {
	return func(ctx context.Context, s *StrikeJob, _ taker) ([]T, error) {
		out, err := work(ctx, s)
		return []T{out}, err
	}
}

// To bound memory, strikes of at most ahead glyphs for each worker are let in and not
// handed on yet, but at least two strikes, however large. That is enough to work on while
// a dear strike holds up the line. A strike counts as leastAhead glyphs at least. Strikes
// of as many glyphs again may be begun early, by a worker that takes them.
const (
	ahead      = 1 << 14
	leastAhead = 1 << 7
)

// order is a run of strikes under way. A strike is outside at first. Then it is let in,
// and waits until a worker begins it; from then on it stands in line until it is handed
// on. One that is taken while it is outside is early.
type order[T any] struct {
	cost func(*StrikeJob) int64
	most int // glyphs inside

	mu      sync.Mutex
	changed *sync.Cond
	stopped bool
	outside []StrikeJob             // not let in yet
	inside  int                     // glyphs of those let in and not handed on
	early   map[*StrikeJob]*task[T] // begun, and not let in yet
	aside   int                     // glyphs of the early ones
	waiting []*task[T]              // let in and not begun, in order
	line    []*task[T]              // let in and not handed on, in order
}

type task[T any] struct {
	strike *StrikeJob
	out    T
	done   bool
}

func newOrder[T any](strikes []StrikeJob, workers int, cost func(*StrikeJob) int64) *order[T] {
	o := &order[T]{outside: strikes, cost: cost, most: workers * ahead, early: map[*StrikeJob]*task[T]{}}
	o.changed = sync.NewCond(&o.mu)
	o.admit()
	return o
}

// size is how many glyphs a strike counts as.
func size(s *StrikeJob) int { return min(max(s.Count(), leastAhead), ahead/2) }

// admit lets in as many strikes as there is room for.
func (o *order[T]) admit() {
	for len(o.outside) > 0 && o.inside+size(&o.outside[0]) <= o.most {
		s := &o.outside[0]
		o.outside = o.outside[1:]
		o.inside += size(s)
		t := o.early[s]
		if t != nil {
			delete(o.early, s)
			o.aside -= size(s)
		} else {
			t = &task[T]{strike: s}
			o.waiting = append(o.waiting, t)
		}
		o.line = append(o.line, t)
	}
	o.changed.Broadcast()
}

// begin gives a worker a strike; nil when there are no more.
func (o *order[T]) begin() *task[T] {
	o.mu.Lock()
	defer o.mu.Unlock()
	for len(o.waiting) == 0 && len(o.outside) > 0 && !o.stopped {
		o.changed.Wait()
	}
	if len(o.waiting) == 0 || o.stopped {
		return nil
	}
	at := 0
	if len(o.outside) == 0 {
		at = o.dearest()
	}
	t := o.waiting[at]
	o.waiting = slices.Delete(o.waiting, at, at+1)
	return t
}

// take gives a worker the strikes of a face that are alike: all that wait, and as many of those
// outside as may be early.
func (o *order[T]) take(f *PlanFace, alike func(*StrikeJob) bool) (taken []*task[T]) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.waiting = slices.DeleteFunc(o.waiting, func(t *task[T]) bool {
		is := t.strike.Face == f && alike(t.strike)
		if is {
			taken = append(taken, t)
		}
		return is
	})
	for i := range o.outside {
		s := &o.outside[i]
		if s.Face != f {
			break
		}
		if o.early[s] == nil && o.aside+size(s) <= o.most && alike(s) {
			t := &task[T]{strike: s}
			o.early[s] = t
			o.aside += size(s)
			taken = append(taken, t)
		}
	}
	return taken
}

// dearest is the first of the dearest strikes that wait.
func (o *order[T]) dearest() (at int) {
	most := int64(-1)
	for i, t := range o.waiting {
		if c := o.cost(t.strike); c > most {
			at, most = i, c
		}
	}
	return at
}

func (o *order[T]) finish(group []*task[T], out []T) {
	o.mu.Lock()
	defer o.mu.Unlock()
	for i, t := range group {
		t.out, t.done = out[i], true
	}
	o.changed.Broadcast()
}

// next waits for the first strike in line and takes it out; nil after the last.
func (o *order[T]) next() *task[T] {
	o.mu.Lock()
	defer o.mu.Unlock()
	for len(o.line) > 0 && !o.line[0].done && !o.stopped {
		o.changed.Wait()
	}
	if len(o.line) == 0 || o.stopped {
		return nil
	}
	t := o.line[0]
	o.line = o.line[1:]
	o.inside -= size(t.strike)
	o.admit()
	return t
}

// stop wakes all who wait, for nothing.
func (o *order[T]) stop() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.stopped = true
	o.changed.Broadcast()
}
