package harness

import (
	"context"
	"errors"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// strikesOf has faces of n strikes, each strike of some glyphs.
func strikesOf(faces, n, glyphs int) []StrikeJob {
	var out []StrikeJob
	for range faces {
		f := &PlanFace{}
		for range n {
			out = append(out, StrikeJob{Face: f, glyphs: &glyphList{count: glyphs}, place: len(out)})
		}
	}
	return out
}

func evenly(*StrikeJob) int64 { return 1 }

func TestStrikesTakenAheadAreHandedOnInTheirTurn(t *testing.T) {
	for _, glyphs := range []int{1, 300, 9000} { // all fit in, some do, two do
		strikes := strikesOf(3, 60, glyphs)
		var mu sync.Mutex
		worked := make([]int, len(strikes))
		groups := 0
		work := func(_ context.Context, s *StrikeJob, take taker) (out []int, _ error) {
			mu.Lock()
			defer mu.Unlock()
			groups++
			group := append([]*StrikeJob{s}, take(func(o *StrikeJob) bool { return (o.place-s.place)%20 == 0 })...)
			for _, o := range group {
				require.Same(t, s.Face, o.Face)
				worked[o.place]++
				out = append(out, o.place)
			}
			return out, nil
		}
		next := 0
		require.NoError(t, inOrder(t.Context(), 2, strikes, evenly, work, func(s *StrikeJob, out int) error {
			require.Equal(t, [2]int{next, next}, [2]int{s.place, out})
			next++
			return nil
		}))
		require.Equal(t, len(strikes), next)
		for _, n := range worked {
			require.Equal(t, 1, n)
		}
		require.Less(t, groups, len(strikes))
	}
}

func TestStrikesAreTakenAheadAsFarAsThereIsRoom(t *testing.T) {
	strikes := strikesOf(1, 100, ahead/4)
	o := newOrder[int](strikes, 1, evenly)
	first := o.begin()
	require.NotNil(t, first)
	taken := o.take(strikes[0].Face, func(*StrikeJob) bool { return true })
	require.Len(t, taken, 3+4, "those let in, and as many glyphs outside as may be inside")
	require.Empty(t, o.take(strikes[0].Face, func(*StrikeJob) bool { return true }))

	o.finish(append([]*task[int]{first}, taken...), make([]int, 1+len(taken)))
	for range 4 {
		require.NotNil(t, o.next())
	}
	require.Len(t, o.take(strikes[0].Face, func(*StrikeJob) bool { return true }), 4, "those taken ahead are let in now, and leave their room")
}

func TestOnceAllAreLetInTheDearestIsBegunFirst(t *testing.T) {
	costs := []int64{3, 1, 9, 5}
	o := newOrder[int](strikesOf(1, 4, 1), 1, func(s *StrikeJob) int64 { return costs[s.place] })
	var begun []int64
	for range costs {
		begun = append(begun, costs[o.begin().strike.place])
	}
	require.Equal(t, []int64{9, 5, 3, 1}, begun)
}

func TestAFaultOfAGroupEndsTheRun(t *testing.T) {
	fault := errors.New("no disk")
	work := func(_ context.Context, _ *StrikeJob, take taker) ([]int, error) {
		take(func(*StrikeJob) bool { return true })
		return nil, fault
	}
	require.ErrorIs(t, inOrder(t.Context(), 2, strikesOf(1, 10, 1), evenly, work, func(*StrikeJob, int) error { return nil }), fault)
}
