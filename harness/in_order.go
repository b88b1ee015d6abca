package harness

import (
	"context"
	"errors"

	"golang.org/x/sync/errgroup"
)

// inOrder works on strikes in parallel and hands the outcomes on in order. No
// more outcomes than workers wait at any time, so memory does not grow with
// the plan.
func inOrder[T any](ctx context.Context, workers int, strikes []StrikeJob,
	work func(context.Context, *StrikeJob) (T, error), yield func(*StrikeJob, T) error) error {
	type slot struct {
		done chan struct{}
		out  T
	}
	g, ctx := errgroup.WithContext(ctx)
	queue := make(chan *slot, workers)
	g.Go(func() error {
		defer close(queue)
		pool, ctx := errgroup.WithContext(ctx)
		pool.SetLimit(workers)
		for i := range strikes {
			s := &slot{done: make(chan struct{})}
			select {
			case queue <- s:
			case <-ctx.Done():
				return errors.Join(pool.Wait(), ctx.Err())
			}
			pool.Go(func() (err error) {
				if s.out, err = work(ctx, &strikes[i]); err == nil {
					close(s.done)
				}
				return err
			})
		}
		return pool.Wait()
	})
	g.Go(func() error {
		i := 0
		for s := range queue {
			select {
			case <-s.done:
			case <-ctx.Done():
				return nil
			}
			if err := yield(&strikes[i], s.out); err != nil {
				return err
			}
			i++
		}
		return nil
	})
	return g.Wait()
}
