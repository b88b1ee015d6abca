package golden

import (
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// branches are two copies of an approvals file on which people decide, each by themselves.
type branches struct {
	base  []byte // what both come from
	sides [2][]byte
	clock time.Time
}

func begun(t *testing.T) *branches {
	b := &branches{clock: time.Unix(1_800_000_000, 0)}
	for g := range 3 {
		b.sides[0] = b.decide(t, b.sides[0], choice(Approve, g, 0))
	}
	b.base, b.sides[1] = b.sides[0], b.sides[0]
	return b
}

// choice is a verdict on one of a glyph's bitmaps.
func choice(v Verdict, g, bitmap int) Decision {
	c := glyph.Cell{Ref: glyph.Ref{Key: glyph.Key(rune('a' + g)), Index: g}, Advance: bitmap, Bitmap: glyph.Bitmap{Depth: 1}}
	return Decision{Verdict: v, Cell: c, By: "Ada"}
}

func (b *branches) decide(t *testing.T, side []byte, ds ...Decision) []byte {
	a := newApprovals()
	if side != nil {
		var err error
		a, err = readApprovals(side, nil)
		require.NoError(t, err)
	}
	b.clock = b.clock.Add(time.Minute)
	for i := range ds {
		ds[i].When = b.clock
	}
	require.NoError(t, a.add(ds))
	return a.bytes(nil)
}

// merge puts the lines of both sides together as git's union does, both sides go on from
// there, and it says what a person would have to decide.
func (b *branches) merge(t *testing.T) (disputed []int) {
	had := strings.SplitAfter(string(b.base), "\n")
	one, other := strings.SplitAfter(string(b.sides[0]), "\n"), strings.SplitAfter(string(b.sides[1]), "\n")
	lines := slices.DeleteFunc(slices.Concat(one, other), func(l string) bool {
		return slices.Contains(had, l) && !(slices.Contains(one, l) && slices.Contains(other, l))
	})
	slices.SortStableFunc(lines, func(x, y string) int {
		return strings.Compare(strings.TrimPrefix(x, approvalsHead), strings.TrimPrefix(y, approvalsHead))
	})
	a, err := readApprovals([]byte(approvalsHead+"\n"+strings.ReplaceAll(strings.Join(slices.Compact(lines), ""), approvalsHead+"\n", "")), nil)
	require.NoError(t, err)
	for _, d := range a.disputes() {
		disputed = append(disputed, int(d.one.key[0]-'a'))
	}
	if len(disputed) == 0 {
		require.Equal(t, tally{}, a.balance(), "nobody changed it by hand")
	}
	b.base = a.bytes(nil)
	b.sides = [2][]byte{b.base, b.base}
	return disputed
}

func TestBranchesThatDecideAlikeMergeAgainAndAgain(t *testing.T) {
	for _, c := range []struct {
		why    string
		before []Decision // on one branch, merged
		both   []Decision // on each
	}{
		{"approved alike", nil, []Decision{choice(Approve, 0, 1)}},
		{"approved alike, twice", []Decision{choice(Approve, 0, 1)}, []Decision{choice(Approve, 0, 2)}},
		{"a bitmap that was rejected", []Decision{choice(Reject, 0, 1)}, []Decision{choice(Approve, 0, 1)}},
		{"another was rejected, whose line may come first", []Decision{choice(Reject, 0, 1), choice(Reject, 1, 1), choice(Reject, 2, 1)}, []Decision{choice(Approve, 0, 2), choice(Approve, 1, 2), choice(Approve, 2, 2)}},
		{"put off again", []Decision{choice(Later, 0, 1)}, []Decision{choice(Later, 0, 1)}},
		{"dropped", nil, []Decision{choice(Gone, 0, 0)}},
	} {
		t.Run(c.why, func(t *testing.T) {
			b := begun(t)
			if c.before != nil {
				b.sides[0] = b.decide(t, b.sides[0], c.before...)
				require.Empty(t, b.merge(t))
			}
			for range 3 {
				for i := range b.sides {
					b.sides[i] = b.decide(t, b.sides[i], c.both...)
				}
				require.Empty(t, b.merge(t))
			}
		})
	}
}

// Two branches took several steps each to two bitmaps of one glyph. What they took out twice
// is made up for by whoever settles it, and not by who decides on another glyph meanwhile.
func TestADisputeIsSettledOnOneBranchWhileTheOtherGoesOn(t *testing.T) {
	b := begun(t)
	b.sides[0] = b.decide(t, b.decide(t, b.sides[0], choice(Approve, 0, 1)), choice(Approve, 0, 2))
	b.sides[1] = b.decide(t, b.decide(t, b.sides[1], choice(Approve, 0, 3)), choice(Approve, 0, 4))
	require.Equal(t, []int{0}, b.merge(t))
	b.sides[0] = b.decide(t, b.sides[0], choice(Approve, 0, 2))
	b.sides[1] = b.decide(t, b.sides[1], choice(Approve, 1, 1))
	require.Empty(t, b.merge(t))
}

// Two people decide and merge, over and over. Where git's lines leave two words on one glyph
// it is a dispute, which one of them settles, or each alike, before they go on.
func TestNoMergeLooksAsIfSomebodyHadChangedTheFile(t *testing.T) {
	for _, c := range []struct {
		why      string
		verdicts []Verdict
		steps    int // of a person between two merges, at most
	}{
		{"any decision at a time", []Verdict{Approve, Approve, Reject, Later, Gone}, 1},
		{"goldens decided on again and again", []Verdict{Approve, Approve, Gone}, 3},
	} {
		disputes := 0
		for seed := range int64(60) {
			rnd := rand.New(rand.NewSource(seed))
			b := begun(t)
			for range 25 {
				for i := range b.sides {
					for range rnd.Intn(c.steps + 1) {
						b.sides[i] = b.decide(t, b.sides[i], choice(c.verdicts[rnd.Intn(len(c.verdicts))], rnd.Intn(3), rnd.Intn(3)))
					}
				}
				var settling []Decision
				for _, g := range b.merge(t) {
					settling = append(settling, choice(Approve, g, rnd.Intn(3)))
				}
				disputes += len(settling)
				for i := range 1 + rnd.Intn(2) {
					b.sides[i] = b.decide(t, b.sides[i], settling...)
				}
				b.merge(t)
			}
		}
		require.Greater(t, disputes, 50, c.why)
	}
}
