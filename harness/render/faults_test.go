package render

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"smokeproof/harness/glyph"
)

// misdeeds are what the worker in testdata/misbehaving can do, by the keys of
// the glyphs that make it.
var misdeeds = []string{"exit", "kill", "half", "wrong", "twice", "absurd", "deep", "noise", "more", "garbage", "hang"}

func testWorker(t *testing.T, o ProcessOptions) *Process {
	o.Command = []string{build(t, "./testdata/misbehaving", "0")}
	p := NewProcess(o)
	t.Cleanup(func() { require.NoError(t, p.Close()) })
	return p
}

func jobOf(keys ...string) *Job {
	job := &Job{Font: "none.ttf", Strike: glyph.Strike{Face: "f", Device: "d", Size: glyph.Pt(8), DPI: glyph.Dots(300)}}
	for i, k := range keys {
		job.Glyphs = append(job.Glyphs, glyph.Ref{Key: glyph.Key(k), Code: glyph.NoCode, Index: i})
	}
	return job
}

func drawAll(t *testing.T, r Renderer, job *Job) []Drawn {
	t.Helper()
	var out []Drawn
	require.NoError(t, r.Draw(t.Context(), job, func(d *Drawn) error { out = append(out, d.Kept()); return nil }))
	require.Len(t, out, len(job.Glyphs))
	for i, d := range out {
		require.Equal(t, job.Glyphs[i], d.Cell.Ref, "every glyph in the order of the job")
	}
	return out
}

func TestAThousandFaultsCostOnlyTheGlyphsThatDidThem(t *testing.T) {
	const seed, strikes, perStrike, bad = 1, 14, 96, 72
	p := testWorker(t, ProcessOptions{Workers: 4, Timeout: 3 * time.Second})
	rng := rand.New(rand.NewPCG(seed, seed))
	var mu sync.Mutex
	faults := map[string]int{}
	g, ctx := errgroup.WithContext(context.Background())
	for strike := range strikes {
		keys := make([]string, perStrike)
		for i := range keys {
			keys[i] = fmt.Sprintf("good.%d", i)
		}
		for n, i := range rng.Perm(perStrike)[:bad] {
			deed := misdeeds[rng.IntN(len(misdeeds)-1)]
			if n == 0 && strike == 0 {
				deed = "hang" // one: it costs its time limit several times
			}
			keys[i] = fmt.Sprintf("%s.%d", deed, i)
		}
		g.Go(func() error {
			return p.Draw(ctx, jobOf(keys...), func(d *Drawn) error {
				mu.Lock()
				defer mu.Unlock()
				deed, _, _ := strings.Cut(string(d.Cell.Key), ".")
				if (d.Err == nil) != (deed == "good") {
					return fmt.Errorf("%s: error %v", d.Cell.Key, d.Err)
				}
				if d.Err == nil && d.Cell.Bitmap.Ink() != 1 {
					return fmt.Errorf("%s: wrong bitmap", d.Cell.Key)
				}
				if d.Err != nil {
					faults[deed]++
				}
				return nil
			})
		})
	}
	require.NoError(t, g.Wait())
	total := 0
	for _, deed := range misdeeds {
		require.NotZero(t, faults[deed], "the seed must commit %s", deed)
		total += faults[deed]
	}
	require.Equal(t, strikes*bad, total)
	require.GreaterOrEqual(t, total, 1000)
}

func TestTheGlyphAtFaultCarriesTheReason(t *testing.T) {
	tests := []struct{ key, says, reason string }{
		{"exit.1", "exit status 3", "the status of a worker that ends"},
		{"exit.1", "cannot draw exit.1", "and its last words"},
		{"kill.1", "signal: killed", "a worker that the system kills"},
		{"hang.1", "no answer within 2s", "a worker that hangs"},
		{"open.1", "a document ends with a line ENDFONT", "a document that nothing ends"},
		{"half.1", "ended in mid-answer", "a document cut short"},
		{"wrong.1", `"somebody-else", which nobody asked for`, "a glyph that is not the one asked for"},
		{"twice.1", "twice", "a glyph drawn twice"},
		{"absurd.1", "absurd", "a bitmap far from its origin"},
		{"deep.1", "nonsense", "a bitmap larger than memory"},
		{"garbage.1", "nonsense", "no BDF at all"},
		{"more.1", "goes on after ENDFONT", "a second answer, which the next request would get"},
		{"noise.1", `it begins with "debug: here I am" and not with STARTFONT; words of its own belong on standard error`, "other words on standard output"},
	}
	p := testWorker(t, ProcessOptions{Workers: 1, Timeout: 2 * time.Second})
	for _, tt := range tests {
		out := drawAll(t, p, jobOf("good.0", tt.key, "good.2"))
		require.NoError(t, out[0].Err, tt.reason)
		require.ErrorContains(t, out[1].Err, tt.says, tt.reason)
		require.NotContains(t, out[1].Err.Error(), "\n", tt.reason)
		require.NoError(t, out[2].Err, tt.reason)
	}
}

// They come by another pipe than the answer.
func TestWhyAGlyphIsLeftOutIsQuoted(t *testing.T) {
	p := testWorker(t, ProcessOptions{Workers: 1})
	for range 50 {
		out := drawAll(t, p, jobOf("good.0", "left.1", "good.2"))
		require.NoError(t, out[2].Err)
		require.EqualError(t, out[1].Err, "renderer left this glyph out; its last words: no outline of left.1")
	}
}

func TestARendererThatFailsAtEverythingIsGivenUp(t *testing.T) {
	keys := make([]string, 5000)
	for i := range keys {
		keys[i] = fmt.Sprintf("exit.%d", i)
	}
	for _, d := range drawAll(t, testWorker(t, ProcessOptions{Workers: 1}), jobOf(keys...)) {
		require.Error(t, d.Err)
	}
}

func TestAWorkerThatCannotIntroduceItselfEndsTheRun(t *testing.T) {
	tests := []struct {
		command      []string
		says, reason string
	}{
		{nil, "no command", "nothing to start"},
		{[]string{"./no-such-program"}, "does not start", "a program that is not there"},
		{[]string{"false"}, "does not introduce itself", "a program that ends at once"},
		{[]string{"cat"}, "first line is not", "a program that knows no protocol"},
		{[]string{"echo", "loading"}, `first line is not {"name":…,"version":…,"settings":…} but "loading"; words of its own belong on standard error`, "one that talks and ends, be it before it is asked"},
		{[]string{"echo", "STARTFONT 2.1"}, "a program that draws one strike and ends needs {font} in its command", "a program that draws at once"},
		{[]string{"sh", "-c", "read greeting; echo STARTFONT 2.1"}, "needs {font} in its command", "one that happens to read"},
	}
	for _, tt := range tests {
		p := NewProcess(ProcessOptions{Command: tt.command, Workers: 1, Timeout: 5 * time.Second})
		_, err := p.Identity(t.Context())
		require.ErrorContains(t, err, tt.says, tt.reason)
		require.NoError(t, p.Close())
	}
}

func TestDrawObeysItsContext(t *testing.T) {
	p := testWorker(t, ProcessOptions{Workers: 1})
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	began := time.Now()
	err := p.Draw(ctx, jobOf("hang.0"), func(*Drawn) error { return nil })
	require.ErrorIs(t, err, context.DeadlineExceeded)
	require.Less(t, time.Since(began), 20*time.Second)
}
