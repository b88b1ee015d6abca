package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

// throng is a bundle of more changes of one face than are looked at one by one: those of the demo face under
// many names. One glyph gained its advance a hundred times at most, so that its row is no long one.
func throng(t *testing.T) (dir string, changes int) {
	dir, _ = larkmoor(t)
	res, err := harness.ReadResults(filepath.Join(dir, "out", harness.ResultsName))
	require.NoError(t, err)
	big := *res
	big.Changes = nil
	for n := 0; len(big.Changes) <= harness.MostApart; n++ {
		for _, c := range res.Changes {
			if len(c.Findings) > 0 && c.Findings[0].Finding == "spacing" && n > 100 {
				continue
			}
			c.Glyph = fmt.Sprintf("%s.%03d", c.Glyph, n)
			c.Score += float64(n) / 1000
			big.Changes = append(big.Changes, c)
		}
	}
	require.NoError(t, review.Write(t.Context(), filepath.Join(dir, "big"), &big, review.Options{}))
	return dir, len(big.Changes)
}

func TestPageOfAThrongBeginsWithTheWorstAndReadsTheRest(t *testing.T) {
	dir, all := throng(t)
	r := openBrowser(t, 1280, 860)
	r.downloads(dir)
	url := fileURL(t, filepath.Join(dir, "big/index.html"))
	r.open(url)
	r.wait(`document.querySelectorAll(".thumb canvas").length > 3`)
	r.picture("throng-1280")
	require.Less(t, ask[int](r, `changes.length`), 1000, "the page begins with the worst")
	require.Equal(t, all, ask[int](r, `changes.length + unread(causes)`))
	left := strings.ReplaceAll(ask[string](r, `byId("left").textContent`), ",", "")
	require.Contains(t, left, fmt.Sprintf("%d of %d left", all, all), "what is not read is left too")
	require.Contains(t, strings.ReplaceAll(ask[string](r, `byId("rest").textContent`), ",", ""), fmt.Sprintf("%d of these are not read", ask[int](r, `unread(causes)`)))
	require.True(t, ask[bool](r, `byId("loupe").textContent.includes("of which the worst 24 are read")`))
	require.True(t, ask[bool](r, `Number(mark(shown[0]).textContent.replace(/[^0-9]/g, "")) === 24 + unread(shown[0].of)`), "a row counts what is not read")
	parted := ask[string](r, `rowPlace(shown.find(g => g.worst.kind === "break")).sizes`)
	r.wait(`document.querySelector('.ramp canvas[aria-label$="its row not read"]')`) // h changed at other sizes too

	r.tell(`find(shown.find(g => g.worst.kind === "spacing" && unread(g.of)).worst); go(at, member); byId("why").focus()`)
	long := ask[int](r, `shown[at].members.length + unread(shown[at].of)`)
	require.Greater(t, long, 100)
	sizes := ask[string](r, `rowPlace(shown[at]).sizes`)
	r.press("wider on purpose", kb.Escape)
	require.Equal(t, long, ask[int](r, `scopeSize(current(), "row")`), "the row is all of it")
	r.press("a")
	r.wait(`!unread(shown[at].of)`)
	require.Zero(t, ask[int](r, `decided.size`), "what nobody has seen is not decided on by the way")
	require.Contains(t, ask[string](r, `byId("said").textContent`), fmt.Sprintf("%d more of this row are read now", long-24))
	require.Equal(t, long, ask[int](r, `shown[at].members.length`))
	require.Equal(t, sizes, ask[string](r, `rowPlace(shown[at]).sizes`), "its sizes were told before they were read")
	require.True(t, ask[bool](r, `shown[at].members.every(c => c.kind === "spacing")`))
	r.press(kb.ArrowRight, "2")
	r.wait(`document.querySelector(".members canvas")`)
	r.picture("throng-read")
	r.press("a")
	require.Equal(t, long, ask[int](r, `decided.size`))
	r.press("3", "a")
	require.Positive(t, ask[int](r, `unread(causes)`), "what is not read is not shown, and not decided")
	require.Equal(t, ask[int](r, `changes.length`), ask[int](r, `decided.size`))
	r.tell(`find(shown.find(g => g.worst.kind === "spacing" && !unread(g.of)).worst); nextOpen()`)
	require.Positive(t, ask[int](r, `unread(shown[at].of)`), "the next to decide on is a row that is not read")
	r.press("u")
	require.Equal(t, long, ask[int](r, `decided.size`))

	r.wait(`!unsaved`)
	for range 10 { // as in TestPageFromDiskFilterWalkDecideExport
		r.do(chromedp.Reload(), chromedp.WaitVisible("#loupe h2"))
		if ask[int](r, `decided.size`) > 0 {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	require.Equal(t, long, ask[int](r, `decided.size`), "decisions on the rest outlive the page")
	r.press("s")
	require.Len(t, decisionsIn(t, dir, "decisions.json"), long)
	require.Zero(t, ask[int](r, `unread(causes)`), "as the earlier decisions were on changes that the page does not begin with")
	require.Equal(t, parted, ask[string](r, `rowPlace(shown.find(g => g.worst.kind === "break")).sizes`), "as the row said before its sizes were read")
	require.Equal(t, all, ask[int](r, `new Set(changes.map(c => c.key)).size`))
	require.True(t, ask[bool](r, `changes.every((c, i) => !i || gravity(changes[i - 1]) <= gravity(c))`), "worst first")
	r.quiet()
}

func TestPageOfAThrongFollowsALinkIntoTheRest(t *testing.T) {
	dir, all := throng(t)
	r := openBrowser(t, 1280, 860)
	url := fileURL(t, filepath.Join(dir, "big/index.html"))
	r.open(url)
	r.press("m")
	r.wait(`!unread(shown[at].of)`)
	far := ask[string](r, `link(shown[at].members.at(-1))`)
	r.do(chromedp.Navigate("about:blank"))
	r.open(url + "#" + far)
	r.wait(fmt.Sprintf(`current() && link(current()) === %q`, far))
	r.wait(`document.querySelector("#loupe h2").textContent.startsWith(current().glyph)`)
	require.Equal(t, all, ask[int](r, `changes.length`))
	r.do(chromedp.Navigate("about:blank"))
	r.open(url)
	data, elsewhere := filepath.Join(dir, "big/data"), filepath.Join(dir, "big/elsewhere")
	require.NoError(t, os.Rename(data, elsewhere))
	r.press("m")
	r.wait(`byId("said").textContent.includes("cannot be read")`)
	require.Positive(t, ask[int](r, `unread(shown[at].of)`), "what cannot be read is left to be read")
	require.NoError(t, os.Rename(elsewhere, data))
	r.press("m")
	r.wait(`!unread(shown[at].of)`)

	r.do(chromedp.Navigate("about:blank"))
	r.open(url)
	r.tell(`document.querySelector("#rest button").click()`)
	r.wait(`!unread(causes)`)
	require.Equal(t, all, ask[int](r, `changes.length`), "one press reads all")
	require.Empty(t, ask[string](r, `byId("rest").textContent`))
	r.downloads(dir)
	r.tell(`byId("why").value = "another rasterizer"; byId("contact").focus()`)
	r.press("3", "a")
	require.Equal(t, all, ask[int](r, `decided.size`), "what is read and shown is decided at once")
	r.press("s")
	require.Contains(t, ask[string](r, `byId("said").textContent`), "saved in 2 files")
	require.Equal(t, all-harness.MostApart, len(decisionsIn(t, dir, "decisions-2.json")))
	require.Equal(t, harness.MostApart, len(decisionsIn(t, dir, "decisions-1.json")))
}

// decisionsIn reads a file that the browser saves, as approve does.
func decisionsIn(t *testing.T, dir, name string) []review.Decision {
	t.Helper()
	f, err := os.Open(savedFile(t, filepath.Join(dir, name)))
	require.NoError(t, err)
	defer f.Close()
	list, err := review.ReadDecisions(f)
	require.NoError(t, err)
	return list.Decisions
}
