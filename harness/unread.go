package harness

import (
	"context"
	"errors"
	"fmt"
)

// unread marks that the goldens of a strike cannot be read, as where git left a
// conflict: no other strike is the worse for it.
type unread struct{ error }

func (u unread) Unwrap() error { return u.error }

// mostUnread is how many strikes may be left out; where there are more, the folder is at fault
// and not single files.
const mostUnread = 20

// addUnread keeps the reason; past mostUnread it ends the run.
func (s *Summary) addUnread(why error) error {
	if len(s.Unread) == mostUnread {
		return fmt.Errorf("%w; so are the goldens of %d strikes before it", why, mostUnread)
	}
	s.Unread = append(s.Unread, why.Error())
	return nil
}

// unreadError is the first reason; nil where all was read.
func (s *Summary) unreadError() error {
	if len(s.Unread) == 0 {
		return nil
	}
	return errors.New(s.Unread[0])
}

// checkWhole is Check for a caller that needs the whole run: goldens that cannot be read are its
// error.
func (r *Run) checkWhole(ctx context.Context, yield func(*StrikeResult) error) error {
	sum, err := r.Check(ctx, yield)
	if err != nil {
		return err
	}
	return sum.unreadError()
}

// readable changes a worker so that goldens that cannot be read are no error but the outcome
// of their strike. Where several strikes were taken together, each is then worked on by itself.
func readable(work worker[*StrikeResult]) worker[*StrikeResult] {
	return func(ctx context.Context, s *StrikeJob, take taker) ([]*StrikeResult, error) {
		group := []*StrikeJob{s}
		all, err := work(ctx, s, func(alike func(*StrikeJob) bool) []*StrikeJob {
			more := take(alike)
			group = append(group, more...)
			return more
		})
		var why unread
		switch {
		case !errors.As(err, &why) || ctx.Err() != nil:
			return all, err
		case len(group) == 1:
			return []*StrikeResult{{unread: err}}, nil
		}
		all = nil
		nothing := func(func(*StrikeJob) bool) []*StrikeJob { return nil }
		for _, s := range group {
			one, err := readable(work)(ctx, s, nothing)
			if err != nil {
				return nil, err
			}
			all = append(all, one...)
		}
		return all, nil
	}
}
