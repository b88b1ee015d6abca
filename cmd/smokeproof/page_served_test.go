package main

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"
)

// said is what a command prints while it runs.
type said struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *said) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// serve runs review --serve until the test ends and gives the page's address.
func serve(t testing.TB, args ...string) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	var out, errs said
	v := reviewVerb
	c := &call{ctx: ctx, verb: &v, stdout: &out, stderr: &errs, argv: append([]string{"--serve"}, args...), flags: pflag.NewFlagSet("review", pflag.ContinueOnError)}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		status, err := v.run(c)
		if status != 0 || err != nil {
			t.Errorf("review --serve: exit %d, %v", status, err)
		}
	}()
	t.Cleanup(func() { stop(); <-ended })
	url := regexp.MustCompile(`http://\S+/`)
	require.Eventually(t, func() bool { return url.MatchString(out.String()) }, 30*time.Second, 10*time.Millisecond)
	return url.FindString(out.String())
}

func TestServedPageWritesAndTakesBackAtOnce(t *testing.T) {
	dir, plan := larkmoor(t)
	url := serve(t, "--plan", plan, "--by", "Ada Marsh")
	r := openBrowser(t, 1280, 860)
	r.open(url)
	require.Equal(t, "Ada Marsh", ask[string](r, `byId("by").value`))
	r.press("w", "seen under the loupe")
	r.tell(`byId("contact").focus()`)
	c := ask[map[string]any](r, `({glyph: current().glyph, size: current().size, device: current().device})`)
	only := []string{"check", "--plan", plan, "--quiet", "--glyphs", c["glyph"].(string), "--size", c["size"].(string), "--device", c["device"].(string), "--out", filepath.Join(dir, "after")}
	require.Equal(t, 1, smokeproof(t, only...))
	r.press("1", "a")
	r.wait(`byId("said").textContent.includes("1 approved")`)
	require.Equal(t, 0, smokeproof(t, only...), "the decision is in the store already")
	r.picture("served-decided")
	r.tell(`asked.severity = current().severity; buildFilters(); apply()`)
	r.do(chromedp.Reload())
	r.wait(`document.querySelector(".plates canvas")`)
	require.Equal(t, ask[string](r, `current().severity`), ask[string](r, `byId("filters").elements.severity.value`), "a page that is loaded anew is filtered as it was")
	require.Contains(t, ask[string](r, `byId("why").value`), "seen under the loupe", "has the reason still")
	r.press("u")
	r.wait(`byId("said").textContent.includes("Taken back: 1")`)
	require.Equal(t, 1, smokeproof(t, only...), "and what was decided is taken back at once")
	r.tell(`asked.severity = ""; buildFilters(); apply()`)
	require.Equal(t, c, ask[map[string]any](r, `({glyph: current().glyph, size: current().size, device: current().device})`), "what is to be decided again is shown")

	other := openBrowser(t, 900, 700)
	other.open(url)
	r.press(kb.Home)
	other.press("w", "me too")
	other.tell(`byId("contact").focus(); go(0); saw = current()`)
	r.tell(`go(0)`)
	r.press("1", "x")
	r.wait(`byId("said").textContent.includes("1 rejected")`)
	other.wait(`byKey.get(saw.key).verdict === "reject"`)
	require.Equal(t, "rejected", ask[string](other, `words[verdictOf(byKey.get(saw.key)).verdict]`), "the other page hears of it")

	r.tell(`byId("why").value = "the others are meant"; chooseScope("row"); goTo(changes.find(c => !verdictOf(c)))`)
	for range 200 {
		// The page hears of a decision before its answer is in and it moves on.
		r.wait(`changes.every(c => verdictOf(c)) || !verdictOf(current())`)
		if ask[bool](r, `changes.every(c => verdictOf(c))`) {
			break
		}
		before := ask[int](r, `head.version`)
		r.press("a")
		r.wait(`head.version > ` + strconv.Itoa(before))
	}
	require.True(t, ask[bool](r, `changes.every(c => verdictOf(c))`))
	r.quiet()
	require.Equal(t, 1, smokeproof(t, "check", "--plan", plan, "--quiet"), "one glyph was rejected")
	require.Equal(t, 0, smokeproof(t, "verify", "--plan", plan))
}

func TestServedPageShowsASavedFont(t *testing.T) {
	dir, plan := larkmoor(t)
	r := openBrowser(t, 1280, 860)
	r.open(serve(t, "--plan", plan, "--watch", "--by", "Ada Marsh"))
	require.NotZero(t, ask[int](r, `changes.length`))
	saved := time.Now()
	copyFile(t, "../../fixtures/larkmoor-text-a.ttf", filepath.Join(dir, "larkmoor-text.ttf"))
	r.wait(`changes.length === 0`)
	t.Logf("revision A shown %v after it was saved", time.Since(saved))
	r.picture("served-nothing")
	saved = time.Now()
	copyFile(t, "../../fixtures/larkmoor-text-b.ttf", filepath.Join(dir, "larkmoor-text.ttf"))
	r.wait(`changes.length > 0 && document.querySelector(".plates canvas")`)
	t.Logf("revision B shown %v after it was saved", time.Since(saved))
	r.picture("served-watch")
	r.quiet()
}
