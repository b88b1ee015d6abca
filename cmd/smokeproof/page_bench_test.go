package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

// BenchmarkPage opens a bundle of as many changes as are looked at one by one, from disk, and scrolls it from
// end to end. The changes are those of the demo face under many names.
func BenchmarkPage(b *testing.B) {
	dir, plan := larkmoor(b)
	res, err := harness.ReadResults(filepath.Join(dir, "out", harness.ResultsName))
	require.NoError(b, err)
	p, err := harness.LoadPlan(plan)
	require.NoError(b, err)
	around, err := p.Surround(b.Context(), res)
	require.NoError(b, err)
	big := *res
	big.Changes = nil
	for n := 0; len(big.Changes)+len(res.Changes) <= harness.MostApart; n++ {
		for _, c := range res.Changes {
			c.Face = fmt.Sprintf("face-%03d", n)
			c.Score += float64(n) / 1000
			big.Changes = append(big.Changes, c)
		}
	}
	for i := range around.Letters {
		around.Letters[i].Face = "face-000"
	}
	begun := time.Now()
	require.NoError(b, review.Write(b.Context(), filepath.Join(dir, "big"), &big, review.Options{Around: around}))
	write := time.Since(begun).Seconds()
	url := fileURL(b, filepath.Join(dir, "big/index.html"))
	r := openBrowser(b, 1280, 860)
	_, err = chromedp.Call(r.ctx, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	require.NoError(b, err)
	var open, work, scroll, worst float64
	for b.Loop() {
		begun := time.Now()
		r.open(url + fmt.Sprintf("?%d", b.N))
		r.wait(`document.querySelector(".plates canvas") && document.querySelectorAll(".thumb canvas").length > 5`)
		open += time.Since(begun).Seconds()
		work += threadTime(r)
		require.Less(b, ask[int](r, `document.querySelectorAll(".row").length`), 40, "only rows in view are in the document")
		frames := askPromise[[]float64](r, `new Promise(done => {
			const sheet = byId("contact"), end = sheet.scrollHeight - sheet.clientHeight, took = [];
			let last = performance.now(), n = 0;
			const frame = now => {
				took.push(now - last); last = now;
				sheet.scrollTop = end * ++n / 120;
				n < 120 ? requestAnimationFrame(frame) : done(took.slice(1).sort((a, b) => a - b));
			};
			requestAnimationFrame(frame);
		})`)
		scroll += frames[len(frames)/2]
		worst = max(worst, frames[len(frames)*95/100])
	}
	b.ReportMetric(write, "write-s")
	b.ReportMetric(open/float64(b.N), "open-s")
	b.ReportMetric(work/float64(b.N), "open-cpu-s")
	b.ReportMetric(scroll/float64(b.N), "frame-ms")
	b.ReportMetric(worst, "frame-ms-p95")
	r.picture("twenty-thousand")
	r.quiet()
}

// BenchmarkWatch saves the demo face ten times, one revision after the other, and
// waits each time until the page shows what that changed.
func BenchmarkWatch(b *testing.B) {
	dir, plan := larkmoor(b)
	r := openBrowser(b, 1280, 860)
	r.open(serve(b, "--plan", plan, "--watch", "--by", "Ada Marsh"))
	shows := map[string]string{
		"a": `changes.length === 0 && document.querySelector("#loupe .none")`,
		"b": `changes.length > 0 && document.querySelector(".plates canvas")`,
	}
	var took []float64
	for b.Loop() {
		for range 5 {
			for _, revision := range []string{"a", "b"} {
				time.Sleep(300 * time.Millisecond) // a person saves again when the last is drawn
				saved := time.Now()
				require.NoError(b, os.WriteFile(filepath.Join(dir, "larkmoor-text.ttf"), neverSeen(b, revision, len(took)), 0o666))
				r.wait(shows[revision])
				took = append(took, time.Since(saved).Seconds())
			}
		}
	}
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "shown-s")
	b.ReportMetric(took[len(took)-1], "shown-s-worst")
}

// neverSeen is a revision of the demo face that no cache knows: its vendor's mark
// (OpenType, OS/2, achVendID) is a number.
func neverSeen(b *testing.B, revision string, n int) []byte {
	font, err := os.ReadFile("../../fixtures/larkmoor-text-" + revision + ".ttf")
	require.NoError(b, err)
	entry := bytes.Index(font, []byte("OS/2"))
	require.Positive(b, entry)
	copy(font[binary.BigEndian.Uint32(font[entry+8:])+58:], fmt.Sprintf("%04d", n))
	return font
}

// threadTime is what the page's main thread has worked since it was opened: on a
// busy machine it says more than the clock.
func threadTime(r *reader) float64 {
	r.t.Helper()
	m, err := chromedp.Call(r.ctx, performance.GetMetrics, cdp.Empty{})
	require.NoError(r.t, err)
	for _, v := range m.Metrics {
		if v.Name == "TaskDuration" {
			return v.Value
		}
	}
	r.t.Fatal("the browser does not say how long its tasks took")
	return 0
}

func askPromise[T any](r *reader, js string) T {
	r.t.Helper()
	v, err := chromedp.Run(r.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	require.NoError(r.t, err)
	return v
}
