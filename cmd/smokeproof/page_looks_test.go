package main

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// looks says what a reader's browser prefers, "light" or "dark".
func (r *reader) looks(scheme string) {
	r.t.Helper()
	_, err := chromedp.Call(r.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
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
		{"light-640", "light", 640, 900, 1},
		{"dark-640", "dark", 640, 900, 1},
		{"zoomed-200", "light", 640, 430, 2},
	} {
		r.looks(view.scheme)
		r.do(chromedp.EmulateViewport(view.width, view.height, chromedp.EmulateScale(view.scale)))
		r.tell(`paintLoupe(); mountRows(); byId("loupe").scrollTop = 0; scrollTo(0, 0)`)
		r.wait(`document.querySelectorAll(".thumb canvas").length > 2 && document.querySelector(".plates canvas")`)
		require.LessOrEqual(t, ask[int](r, `document.documentElement.scrollWidth`), int(view.width), "%s: nothing is cut off at the side", view.name)
		r.picture(view.name)
		r.tell(`byId("loupe").scrollTop = 1e6; document.querySelector("#loupe section:last-child").scrollIntoView({block: "end"})`)
		r.picture(view.name + "-below")
	}
	r.quiet()
}

func TestPageNamesEveryControlForAScreenReader(t *testing.T) {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	r.wait(`document.querySelector(".ramp canvas")`)
	require.Empty(t, ask[[]string](r, `[...document.querySelectorAll("button, input, select, canvas, dialog, [role=listbox]")].filter(e =>
		!(e.getAttribute("aria-label") || e.getAttribute("aria-hidden") || e.labels?.[0]?.textContent.trim() || e.tagName !== "CANVAS" && e.textContent.trim())).map(e => e.outerHTML)`))
	require.Equal(t, "true", ask[string](r, `document.querySelector("#" + byId("contact").getAttribute("aria-activedescendant")).getAttribute("aria-selected")`))
	require.Empty(t, ask[[]string](r, `[...document.querySelectorAll("[tabindex]")].filter(e => e.tabIndex > 0).map(e => e.id)`), "the order of focus is that of the page")
	r.press("?")
	require.True(t, ask[bool](r, `byId("keys").open`))
}
