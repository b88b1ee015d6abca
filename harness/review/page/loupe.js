// The loupe: one change, close.

function section(title, ...parts) {
  const s = el("section");
  s.append(el("h3", title), ...parts);
  return s;
}

// paintLoupe builds the loupe aside and shows it whole, unless another change was
// chosen meanwhile.
async function paintLoupe() {
  const c = current(), loupe = byId("loupe");
  paintDecide();
  pointed = null;
  if (!c) {
    loupe.replaceChildren(el("p", changes.length ? unread(causes) ? "Nothing to show of what is read: loosen the filters, or read the rest." : "Nothing to show: loosen the filters." : nothing(), "none"));
    return;
  }
  try {
    const d = await detail(c), letters = await setWord(c, d);
    if (c !== current()) return;
    const held = focused();
    loupe.replaceChildren(...[title(c), plates(c, d), legend(d), sentences(c, d), (shown[at].members.length > 1 || unread(shown[at].of) > 0) && members(shown[at]), word(c, letters), ramp(c, d), trueSize(c, letters)].filter(Boolean));
    showMember();
    if (held) document.querySelector(held)?.focus({ preventScroll: true });
  } catch (e) {
    if (c === current()) loupe.replaceChildren(title(c), el("p", e.message + ". Keep the bundle's data folder beside its page.", "none"));
  }
}

// focused finds what has the focus under the loupe, to be given it again where the loupe is built anew;
// "" where it is elsewhere.
function focused() {
  const e = document.activeElement;
  if (!byId("loupe").contains(e)) return "";
  for (const list of [".members", ".ramp"]) if (e.closest(list)) return "#loupe " + list + " [aria-current]";
  return e.name ? `#loupe [name=${e.name}]` : "";
}

function nothing() {
  const s = head.summary;
  return head.looked ? "No fault found." : `Every glyph is ${head.decidable ? "as approved" : "the same in both fonts"}: ${s.glyphs.toLocaleString("en")} in ${s.strikes.toLocaleString("en")} strikes.`;
}

function title(c) {
  const div = el("div", undefined, "title"), h = el("h2", c.glyph), v = verdictOf(c), p = el("p", `${c.face}, ${c.size} pt at ${c.dpi} dpi, ${c.device}`, "soft");
  const code = "U+" + c.code.toString(16).toUpperCase().padStart(4, "0"), character = c.code > 0 ? String.fromCodePoint(c.code) : "";
  if (c.glyph !== code && character) h.append(el("small", code));
  if (new RegExp(head.numbers).test(c.glyph) && /[\p{L}\p{N}\p{P}\p{S}]/u.test(character)) h.append(el("small", character));
  if (v) p.append(el("span", verdictText(v) + (v.why ? ": " + v.why : ""), "verdict"));
  div.append(h, p);
  return div;
}

function sentences(c, d) {
  const ul = el("ul", undefined, "findings");
  for (const f of d.findings) {
    const li = el("li");
    li.tabIndex = 0;
    for (const [event, which] of [["mouseenter", f], ["focus", f], ["mouseleave", null], ["blur", null]]) li.addEventListener(event, () => point(which, c, d));
    const kind = el("span", f.finding, "kind");
    kind.title = head.means[f.finding] || "";
    li.append(el("span", f.severity, "sev " + f.severity), kind, el("span", f.text));
    ul.append(li);
  }
  if (d.reason) ul.append(el("li", d.reason, "bare"));
  if (!d.findings.length && !d.reason) ul.append(el("li", byHand(c) ? "unapproved: the bitmap in the golden folder was imported or changed by hand, and nobody has approved it. To keep it: smokeproof approve --stored. To approve here puts the candidate in its place, this glyph alone."
    : "new: nobody has approved this glyph yet", "bare"));
  return ul;
}
