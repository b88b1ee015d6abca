package main

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// openLarkmoor opens the demo face's bundle from disk, its pictures drawn.
func openLarkmoor(t *testing.T) *reader {
	dir, plan := larkmoor(t)
	require.Equal(t, 0, smokeproof(t, "review", "--plan", plan, "--quiet"))
	r := openBrowser(t, 1280, 860)
	r.open(fileURL(t, filepath.Join(dir, "out/review/index.html")))
	r.wait(`document.querySelector(".ramp canvas")`)
	return r
}

func TestPageNamesEveryControlForAScreenReader(t *testing.T) {
	r := openLarkmoor(t)
	require.Empty(t, ask[[]string](r, `[...document.querySelectorAll("button, input, select, canvas, dialog, nav, [role=listbox], [role=group]")].filter(e =>
		!(e.getAttribute("aria-label") || e.getAttribute("aria-labelledby") || e.closest("[aria-hidden]") || e.labels?.[0]?.textContent.trim() || e.tagName !== "CANVAS" && e.textContent.trim())).map(e => e.outerHTML)`))
	require.Equal(t, "true", ask[string](r, `document.querySelector("#" + byId("contact").getAttribute("aria-activedescendant")).getAttribute("aria-selected")`))
	require.Empty(t, ask[[]string](r, `[...document.querySelectorAll("[tabindex]")].filter(e => e.tabIndex > 0).map(e => e.id)`), "the order of focus is that of the page")
	require.Empty(t, ask[[]string](r, `[...document.querySelectorAll("[id]")].map(e => e.id).filter((id, i, all) => all.indexOf(id) !== i)`), "an id names one element")
	require.Equal(t, []string{"H1", "H2"}, ask[[]string](r, `[...document.querySelectorAll("h1, h2, h3")].slice(0, 2).map(e => e.tagName)`), "headings go down by one")
	require.Equal(t, 2, ask[int](r, `document.querySelectorAll("[role=status]").length`), "what is left, and what was done, are told as they change")
	require.Equal(t, "en", ask[string](r, `document.documentElement.lang`))
	r.press("?")
	require.True(t, ask[bool](r, `byId("keys").open`))
	r.picture("keys")
	r.tell(`byId("keys").close(); byId("calibrate").showModal()`)
	r.picture("calibrate")
}

// TestPageShowsWhereTheFocusIs walks the page with the Tab key alone.
func TestPageShowsWhereTheFocusIs(t *testing.T) {
	r := openLarkmoor(t)
	seen := map[string]bool{}
	_, err := chromedp.Call(r.ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	r.tell(`byId("by").focus()`)
	for range 120 {
		at := ask[string](r, `(e => e.id || e.name || e.dataset.verdict || e.className || e.closest("[class]")?.className || e.tagName)(document.activeElement)`)
		seen[at] = true
		require.True(t, ask[bool](r, `(() => {
			const e = document.activeElement, mark = e === byId("contact") ? document.querySelector(".row[aria-selected=true]") : e;
			return e === document.body || parseFloat(getComputedStyle(mark).outlineWidth) >= 2 && getComputedStyle(mark).outlineStyle !== "none";
		})()`), "%s has the focus and does not show it", at)
		r.press(kb.Tab)
	}
	for _, name := range []string{"by", "save", "help", "name", "severity", "fold", "contact", "scope", "why", "until", "approve", "reject", "later"} {
		require.True(t, seen[name], "Tab does not reach %s, only %v", name, seen)
	}
}

func TestPageKeepsTheFocusWhereTheLoupeIsBuiltAnew(t *testing.T) {
	r := openLarkmoor(t)
	_, err := chromedp.Call(r.ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	require.Equal(t, 1, ask[int](r, `document.querySelectorAll(".members [tabindex='0']").length`), "many members are one stop of the Tab key")
	r.tell(`document.querySelector(".members [aria-current]").focus()`)
	before := ask[int](r, `member`)
	r.press(kb.ArrowRight)
	require.Equal(t, before+1, ask[int](r, `member`), "arrows walk from there")
	r.wait(`document.activeElement.closest(".members") && document.activeElement.getAttribute("aria-current") === "true"`)
	r.tell(`const g = document.querySelector(".legend [name=grid]"); g.focus(); g.click()`)
	r.wait(`document.activeElement.name === "grid" && document.activeElement !== g`)
	r.tell(`document.querySelector(".ramp button:not([aria-current])").focus(); document.activeElement.click()`)
	r.wait(`document.activeElement.closest(".ramp") && document.activeElement.getAttribute("aria-current") === "true"`)
}

// TestPageTextStandsOutFromItsGround takes the contrast that WCAG 2.1, 1.4.3 asks of
// text, 4.5 to 1, and 1.4.11 of marks, 3 to 1, with WCAG's relative luminance.
func TestPageTextStandsOutFromItsGround(t *testing.T) {
	r := openLarkmoor(t)
	for _, scheme := range []string{"light", "dark"} {
		r.prefers("prefers-color-scheme", scheme, "prefers-reduced-motion", "reduce") // or colours are caught half-way
		require.Empty(t, ask[[]string](r, `(() => {
			const numbers = c => (c.match(/[\d.]+/g) || []).map(Number);
			const light = ([r, g, b]) => { const [x, y, z] = [r, g, b].map(v => (v /= 255) <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4); return .2126 * x + .7152 * y + .0722 * z; };
			const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + .05) / (y + .05); };
			const ground = e => { for (; e; e = e.parentElement) { const c = numbers(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] === 1) return c; } return [255, 255, 255]; };
			const poor = [];
			for (const e of document.querySelectorAll("body *")) {
				if (!e.checkVisibility() || e.matches(":disabled, option, progress")) continue;
				const words = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) || e.matches("input:not([type=checkbox]):not([type=radio])");
				if (e.placeholder && ratio(numbers(getComputedStyle(e, "::placeholder").color), ground(e)) < 4.5) poor.push("placeholder of " + e.outerHTML);
				if (words && ratio(numbers(getComputedStyle(e).color), ground(e)) < 4.5) poor.push(e.outerHTML.slice(0, 120));
			}
			for (const c of [paper.lost, paper.gained, paper.outline]) {
				const hex = [1, 3, 5].map(i => parseInt(c.slice(i, i + 2), 16));
				if (ratio(hex, [255, 255, 255]) < 3) poor.push(c);
			}
			return poor;
		})()`), scheme)
	}
}

// TestPageKeepsLettersFromActingForThoseWhoAskForIt: speech and slips press single letters (WCAG 2.1, 2.1.4).
func TestPageKeepsLettersFromActingForThoseWhoAskForIt(t *testing.T) {
	r := openLarkmoor(t)
	r.tell(`byId("why").value = "seen"`)
	r.press("?")
	r.tell(`byId("letters").click(); byId("keys").close()`)
	r.press("a", "x", "3", "r")
	require.Zero(t, ask[int](r, `decided.size`))
	require.Equal(t, "row", ask[string](r, `scope`))
	r.press(kb.ArrowDown)
	require.Equal(t, 1, ask[int](r, `at`), "arrows walk all the same")
	r.do(chromedp.Reload(), chromedp.WaitVisible("#loupe h2"))
	require.False(t, ask[bool](r, `byId("letters").checked`))
	r.tell(`byId("letters").click()`)
}

func TestPageKeepsStillForThoseWhoAskForIt(t *testing.T) {
	r := openLarkmoor(t)
	moving := `getComputedStyle(document.querySelector(".row")).transitionDuration !== "0s"`
	require.True(t, ask[bool](r, moving))
	r.prefers("prefers-reduced-motion", "reduce")
	require.False(t, ask[bool](r, moving))
}
