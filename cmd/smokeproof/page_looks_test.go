package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

// prefers says what a reader's browser prefers: media features and their values.
func (r *reader) prefers(pairs ...string) {
	r.t.Helper()
	var p emulation.SetEmulatedMediaParams
	for i := 0; i < len(pairs); i += 2 {
		p.Features = append(p.Features, &emulation.MediaFeature{Name: pairs[i], Value: pairs[i+1]})
	}
	_, err := chromedp.Call(r.ctx, emulation.SetEmulatedMedia, p)
	require.NoError(r.t, err)
}

func TestPageFitsEachWindowInLightAndDark(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")) + "#larkmoor-text/label/10/h")
	for _, view := range []struct {
		name, scheme  string
		width, height int64
		scale         float64
	}{
		{"light-1280", "light", 1280, 860, 1},
		{"dark-1280", "dark", 1280, 860, 1},
		{"light-1920", "light", 1920, 1080, 1},
		{"light-900", "light", 900, 860, 1},
		{"light-640", "light", 640, 900, 1},
		{"dark-640", "dark", 640, 900, 1},
		{"light-420", "light", 420, 800, 1},
		{"zoomed-200", "light", 640, 430, 2},
	} {
		r.prefers("prefers-color-scheme", view.scheme)
		r.do(chromedp.EmulateViewport(view.width, view.height, chromedp.EmulateScale(view.scale)))
		r.tell(`paintLoupe(); mountRows(); byId("loupe").scrollTop = 0; scrollTo(0, 0)`)
		r.wait(`document.querySelectorAll(".thumb canvas").length > 2 && document.querySelector(".plates canvas")`)
		require.LessOrEqual(t, ask[int](r, `document.documentElement.scrollWidth`), int(view.width), "%s: nothing is cut off at the side", view.name)
		require.LessOrEqual(t, ask[float64](r, `document.querySelector(".reason").scrollWidth - document.querySelector(".reason").clientWidth`), 0.0, "%s: nor is a field", view.name)
		if view.width < 640 {
			require.Less(t, ask[float64](r, `byId("decide").offsetHeight`), 0.2*float64(view.height), "%s: the decision leaves room for what it is about", view.name)
		}
		r.picture(view.name)
		r.tell(`byId("loupe").scrollTop = 1e6; document.querySelector("#loupe section:last-child").scrollIntoView({block: "end"})`)
		r.picture(view.name + "-below")
	}
	r.quiet()
}

func TestPagePrintsWhatLiesUnderTheLoupe(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")) + "#larkmoor-text/label/10/h")
	r.wait(`document.querySelector(".ramp canvas")`)
	_, err := chromedp.Call(r.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Media: "print", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}},
	})
	require.NoError(t, err)
	shows := func(what string) bool {
		return ask[bool](r, `document.querySelector("`+what+`").getClientRects().length > 0`)
	}
	for _, what := range []string{"#loupe h2", ".plates canvas", ".findings", ".ramp canvas"} {
		require.True(t, shows(what), what)
	}
	for _, what := range []string{"#contact", "#filters", "#decide", "#help", ".legend label"} {
		require.False(t, shows(what), what)
	}
	require.Equal(t, "rgb(255, 255, 255)", ask[string](r, `getComputedStyle(document.body).backgroundColor`), "a dark screen is no reason for dark paper")
	require.Equal(t, "visible", ask[string](r, `getComputedStyle(byId("loupe")).overflowY`), "nothing is cut off")
	r.picture("print")
	r.quiet()
}

func TestPageFramesThePlaceOfAFinding(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")) + "#larkmoor-text/label/10/h")
	r.wait(`document.querySelector(".findings li")`)
	_, err := chromedp.Call(r.ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	plate := func() string { return ask[string](r, `document.querySelectorAll(".plates canvas")[1].toDataURL()`) }
	bare := plate()
	r.tell(`document.querySelector(".findings li").focus()`)
	framed := plate()
	require.False(t, bare == framed, "by the keyboard")
	r.picture("place")
	r.press(kb.Escape)
	require.True(t, bare == plate(), "and gone with it")
	r.tell(`document.querySelector(".findings li").dispatchEvent(new MouseEvent("mouseenter"))`)
	require.True(t, framed == plate(), "by the mouse")
	r.quiet()
}

func TestPageNamesAFaceInARowByWhatTheOthersAreNotCalled(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	for _, c := range []struct{ reason, call, want string }{
		{"words that all begin with", `ending("larkmoor-text-type1", ["larkmoor-text-type1", "larkmoor-text-opentype"])`, "type1"},
		{"letters alone are no word", `ending("larkin", ["larkin", "larkmoor"])`, "larkin"},
		{"the last word stays where another begins with all of it", `ending("larkmoor-text", ["larkmoor-text", "larkmoor-text-bold"])`, "text"},
	} {
		require.Equal(t, c.want, ask[string](r, c.call), c.reason)
	}
	r.quiet()
}

func TestPageOfAFontLookedAtBeginsWithWhatShowsOfIt(t *testing.T) {
	dir := t.TempDir()
	font := filepath.Join(dir, "go.ttf")
	require.NoError(t, os.WriteFile(font, goregular.TTF, 0o666))
	require.Equal(t, 1, smokeproof(t, "look", font, "--out", dir, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "review/index.html")))
	require.True(t, ask[bool](r, `document.querySelector("#overhauls details").open`))
	require.Contains(t, ask[string](r, `byId("overhauls").innerText`), "parts run together")
	r.quiet()
}

func TestPageOfTwoFontsLeavesNothingToDecide(t *testing.T) {
	dir := t.TempDir()
	require.Equal(t, 1, smokeproof(t, "compare", "../../fixtures/larkmoor-text-a.ttf", "../../fixtures/larkmoor-text-b.ttf", "--out", dir, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "review/index.html")))
	r.wait(`document.querySelector(".ramp canvas")`)
	require.Zero(t, ask[int](r, `[...document.querySelectorAll(".deciding")].filter(e => e.checkVisibility()).length`))
	require.Equal(t, "Smoke proof: larkmoor-text-b.ttf against larkmoor-text-a.ttf", ask[string](r, `document.title`))
	require.Equal(t, []string{"old", "new, outline"}, ask[[]string](r, `[...document.querySelectorAll(".plates figcaption")].slice(0, 2).map(e => e.textContent)`))
	require.Equal(t, []string{"old", "new"}, ask[[]string](r, `[...document.querySelectorAll(".lines:not(.true) figcaption")].map(e => e.textContent)`))
	r.press("a", "x", "s", "u")
	require.Zero(t, ask[int](r, `decided.size`))
	r.picture("compare")
	r.quiet()
}

func TestPageSaysWhatToDoWhereGlyphsWereRenamed(t *testing.T) {
	dir, plan := larkmoor(t)
	font := filepath.Join(dir, "larkmoor-text.ttf")
	withoutNames(font, font)
	require.Equal(t, 1, smokeproof(t, "check", "--plan", plan, "--quiet"))
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	require.Contains(t, ask[string](r, `byId("overhauls").innerText`), "smokeproof approve --renamed")
	r.quiet()
}

func TestPageCutsOffNoCountAndNoSizeInANarrowWindow(t *testing.T) {
	r := openLarkmoor(t)
	r.tell(`head.faces.push("larkmoor-transit-display-condensed-bold1"); head.devices.push("label-printer-of-the-northern-depot-2");
		changes.forEach((c, i) => { c.face = head.faces.at(-1 - i % 2); c.device = head.devices.at(-1); if (c.glyph === "h") c.glyph = "larkmoor.transit.h.small.alternate"; })`)
	for _, width := range []int64{1280, 900, 640, 420} {
		r.do(chromedp.EmulateViewport(width, 860))
		for _, fold := range []string{"cause", "finding"} {
			r.tell(`asked.fold = "` + fold + `"; causes.forEach(g => delete g.shared); apply()`)
			require.Empty(t, ask[[]string](r, `[...document.querySelectorAll(".row b .soft, .row .sizes")].filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth ||
				e.getBoundingClientRect().right > e.parentElement.getBoundingClientRect().right + 1).map(e => e.textContent)`), "%s at %d px", fold, width)
			require.NotZero(t, ask[int](r, `document.querySelectorAll(".row b .soft").length * document.querySelectorAll(".row .sizes").length`))
			require.LessOrEqual(t, ask[int](r, `document.documentElement.scrollWidth`), int(width))
			r.picture(fmt.Sprintf("long-names-%s-%d", fold, width))
		}
	}
}
