package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

// reader is a person at a page: a browser with one tab.
type reader struct {
	t   testing.TB
	ctx context.Context

	mu     sync.Mutex
	faults []string // what the console said: exceptions, broken policies, missing files
}

func openBrowser(t testing.TB, width, height int64) *reader {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is missing; install the Debian package chromium")
		}
		t.Skip("chromium is missing")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, stopBrowser := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stopTab := chromedp.NewContext(ctx)
	ctx, stopClock := context.WithTimeout(ctx, 3*time.Minute)
	r := &reader{t: t, ctx: ctx}
	console := chromedp.Console(ctx)
	var listening sync.WaitGroup
	listening.Go(func() {
		for m, err := range console {
			if err != nil {
				return
			}
			r.mu.Lock()
			r.faults = append(r.faults, m.String())
			r.mu.Unlock()
		}
	})
	t.Cleanup(func() { stopClock(); stopTab(); stopBrowser(); listening.Wait() })
	r.do(chromedp.EmulateViewport(width, height))
	return r
}

func (r *reader) do(steps ...chromedp.Action[chromedp.Void]) {
	r.t.Helper()
	require.NoError(r.t, chromedp.Do(r.ctx, steps...))
}

// quiet says that the console had nothing to complain of.
func (r *reader) quiet() {
	r.t.Helper()
	r.mu.Lock()
	defer r.mu.Unlock()
	require.Empty(r.t, r.faults)
}

// ask evaluates an expression of the page.
func ask[T any](r *reader, js string) T {
	r.t.Helper()
	v, err := chromedp.Run(r.ctx, chromedp.Evaluate[T](js))
	require.NoError(r.t, err, js)
	return v
}

func (r *reader) tell(js string) {
	r.t.Helper()
	r.do(chromedp.Evaluate[chromedp.Void](js + "; undefined"))
}

// wait polls until an expression of the page holds.
func (r *reader) wait(js string) {
	r.t.Helper()
	_, err := chromedp.Run(r.ctx, chromedp.Poll[chromedp.Void](js, chromedp.WithPollingInterval(10*time.Millisecond), chromedp.WithPollingTimeout(20*time.Second)))
	require.NoError(r.t, err, js)
}

func (r *reader) open(url string) {
	r.t.Helper()
	r.do(chromedp.Navigate(url), chromedp.WaitVisible("#loupe h2, #loupe .none"))
}

func (r *reader) press(keys ...string) {
	r.t.Helper()
	for _, k := range keys {
		r.do(chromedp.KeyEvent(k))
	}
}

// picture keeps what the reader sees, for people to look at.
func (r *reader) picture(name string) {
	r.t.Helper()
	dir := "../../out/screenshots"
	require.NoError(r.t, os.MkdirAll(dir, 0o777))
	png, err := chromedp.Run(r.ctx, chromedp.CaptureScreenshot())
	require.NoError(r.t, err)
	require.NoError(r.t, os.WriteFile(filepath.Join(dir, name+".png"), png, 0o666))
}

// downloads sends what the page saves to a folder.
func (r *reader) downloads(dir string) {
	r.t.Helper()
	_, err := chromedp.CallBrowser(r.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir})
	require.NoError(r.t, err)
}

func fileURL(t testing.TB, path string) string {
	abs, err := filepath.Abs(path)
	require.NoError(t, err)
	return "file://" + filepath.ToSlash(abs)
}

// smokeproof runs the command and gives its exit status.
func smokeproof(t testing.TB, args ...string) int {
	t.Helper()
	var out, errs bytes.Buffer
	status := command(args, &out, &errs)
	t.Logf("smokeproof %s: %d\n%s", strings.Join(args, " "), status, errs.String())
	return status
}

// larkmoor lays out the demo's TrueType face: revision A approved, revision B
// checked against it.
func larkmoor(t testing.TB) (dir, plan string) {
	dir = t.TempDir()
	plan = filepath.Join(dir, harness.PlanName)
	demo, err := os.ReadFile("../../fixtures/demo/smokeproof.toml")
	require.NoError(t, err)
	first, _, more := bytes.Cut(demo, []byte("\n# The same face with declared stems"))
	require.True(t, more, "the demo's other faces are not where this test looks")
	require.NoError(t, os.WriteFile(plan, first, 0o666))
	copyFile(t, "../../fixtures/larkmoor-text-a.ttf", filepath.Join(dir, "larkmoor-text.ttf"))
	require.Equal(t, 0, smokeproof(t, "approve", "--plan", plan, "--by", "Ada Marsh", "--why", "first set", "--quiet"))
	copyFile(t, "../../fixtures/larkmoor-text-b.ttf", filepath.Join(dir, "larkmoor-text.ttf"))
	require.Equal(t, 1, smokeproof(t, "check", "--plan", plan, "--quiet"))
	return dir, plan
}

func copyFile(t testing.TB, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(to, data, 0o666))
}

// savedFile waits until the browser has written decisions: the file is there before what is in it.
func savedFile(t *testing.T, path string) string {
	t.Helper()
	require.Eventually(t, func() bool {
		text, err := os.ReadFile(path)
		return err == nil && json.Valid(text)
	}, 10*time.Second, 20*time.Millisecond, "the browser saves the decisions")
	return path
}

func TestPageFromDiskFilterWalkDecideExport(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.downloads(dir)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	r.wait(`document.querySelectorAll(".thumb canvas").length > 3`)
	r.picture("disk-1280")

	require.Regexp(t, `^[0-9]`, ask[string](r, `rowWhere(shown[0]).textContent`), "of one face a row tells the sizes")
	require.Regexp(t, `^larkmoor-text, [0-9]`, ask[string](r, `head.faces.push("another"), rowWhere(shown[0]).textContent`), "of several its face first")
	r.tell(`head.faces.pop()`)
	require.Equal(t, []string{}, ask[[]string](r, `foldRows("glyph", visible).filter(g => g.text !== g.worst.kind).map(g => g.text)`), "a glyph's row tells what is worst of it")

	all := ask[int](r, `shown.length`)
	r.do(chromedp.SetValue("select[name=severity]", "critical"))
	r.tell(`document.querySelector("select[name=severity]").dispatchEvent(new Event("change"))`)
	require.Less(t, ask[int](r, `shown.length`), all, "a filter leaves fewer causes")
	require.True(t, ask[bool](r, `visible.every(c => c.severity === "critical")`))
	r.tell(`asked.severity = ""; buildFilters(); apply(); byId("contact").focus()`)

	before := ask[string](r, `location.hash`)
	r.press(kb.ArrowDown, kb.ArrowDown)
	require.NotEqual(t, before, ask[string](r, `location.hash`), "the keys walk, and each glyph has a link")
	r.press(kb.Home)

	r.press("a")
	require.Equal(t, "why", ask[string](r, `document.activeElement.id`), "no decision without a reason")
	r.tell(`byId("why").value = ""`) // the browser, driven so, types the key itself into the field
	r.press("seen under the loupe", kb.Escape)
	require.Equal(t, "contact", ask[string](r, `document.activeElement.id`))
	r.press("a", "u")
	require.Zero(t, ask[int](r, `decided.size`), "undo takes the decision back")

	r.press("1", "x")
	require.Equal(t, 1, ask[int](r, `decided.size`), "a decision taken back leaves its reason to the next")
	r.press("a")
	require.Equal(t, 1, ask[int](r, `decided.size`), "why one was rejected is not why another is approved")
	require.Contains(t, ask[string](r, `byId("said").textContent`), "why something was rejected")
	r.press("a", "u", "u", "2")
	require.Zero(t, ask[int](r, `decided.size`), "asked twice it is meant")
	r.press(kb.Home)
	for range all + 1 {
		r.press("a")
	}
	require.Equal(t, 0, ask[int](r, `changes.filter(c => !verdictOf(c)).length`), "one key a cause, until none is left")
	require.True(t, ask[bool](r, `byId("save").classList.contains("due")`), "what is left to do is shown")
	r.picture("disk-decided")

	r.wait(`!unsaved`)
	for range 10 { // a reloaded page may be another process of the browser's, which hears of them in its own time
		r.do(chromedp.Reload(), chromedp.WaitVisible("#loupe h2"))
		if ask[int](r, `decided.size`) > 0 {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	require.Equal(t, ask[int](r, `changes.length`), ask[int](r, `decided.size`), "decisions outlive the page")
	r.press("u", "u") // the last was decided twice
	require.Less(t, ask[int](r, `decided.size`), ask[int](r, `changes.length`), "and so does what can be undone")
	r.press("a")
	require.Equal(t, ask[int](r, `changes.length`), ask[int](r, `decided.size`), "for the reason that is still there")
	r.press("s")
	saved := savedFile(t, filepath.Join(dir, "decisions.json"))
	r.quiet()
	require.Equal(t, 0, smokeproof(t, "approve", "--plan", plan, "--by", "Ada Marsh", "--decisions", saved, "--quiet"))
	require.Equal(t, 0, smokeproof(t, "check", "--plan", plan, "--quiet"))
	require.Equal(t, 0, smokeproof(t, "verify", "--plan", plan))
}

func TestHostileNamesAreTextOnThePage(t *testing.T) {
	name := `</script><img src=x onerror="hit=1"><b>q` + "\u202e"
	pic := &harness.Picture{Width: 1, Height: 3, Depth: 1, Advance: 2, Rows: "gICA"}
	ch := harness.Change{
		Face: `../../"><script>hit=1</script>`, Device: "</style><svg onload=hit=1>", Size: "8", DPI: "203", Mode: "bilevel", Glyph: name, Code: -1,
		Status: "changed", Severity: "major", Score: 1, Lost: 1, Digest: "d", Golden: pic, Candidate: pic,
		Findings: []harness.Finding{{Glyph: name, Finding: "edge", Severity: "major", Text: "<i>hit</i>"}},
	}
	res := &harness.Results{Header: harness.Header{Version: 1, Gate: "major"}, Changes: []harness.Change{ch}, Summary: *harness.NewSummary()}
	dir := t.TempDir()
	require.NoError(t, review.Write(t.Context(), dir, res, review.Options{}))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "index.html")))
	r.wait(`document.querySelector(".plates canvas")`)
	require.Equal(t, strings.Replace(name, "\u202e", "<U+202E>", 1), ask[string](r, `document.querySelector("#loupe h2").textContent`))
	require.False(t, ask[bool](r, `"hit" in window || !!document.querySelector("main img, main svg, main i.hit, main b b")`))
	r.picture("hostile")
	r.quiet()
}
