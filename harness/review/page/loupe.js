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
  if (!c) {
    loupe.replaceChildren(el("p", changes.length ? "Nothing to show: loosen the filters." : "Every glyph is as approved.", "none"));
    return;
  }
  try {
    const d = await detail(c), letters = await setWord(c, d);
    if (c !== current()) return;
    loupe.replaceChildren(...[title(c), sentences(c, d), plates(c, d), legend(), word(c, letters), ramp(c, d), trueSize(c, letters)].filter(Boolean));
  } catch (e) {
    if (c === current()) loupe.replaceChildren(title(c), el("p", e.message + ". Keep the bundle's data folder beside its page.", "none"));
  }
}

function title(c) {
  const div = el("div", undefined, "title"), h = el("h2", c.glyph), v = verdictOf(c), g = shown[at];
  if (c.code > 0) h.append(el("small", "U+" + c.code.toString(16).toUpperCase().padStart(4, "0")));
  div.append(h, el("p", `${c.face}, ${c.size} pt at ${c.dpi} dpi, ${c.device}`, "soft"));
  if (v) div.append(el("p", verdictText(v) + (v.why ? ": " + v.why : ""), "verdict"));
  if (g.members.length > 1) div.append(members(g));
  return div;
}

// members lets a person walk the glyphs of a cause.
function members(g) {
  const nav = el("nav", undefined, "members");
  nav.setAttribute("aria-label", "of this cause");
  const most = 60;
  const order = g.members.slice(0, most).map((x, i) => [x, i]);
  if (!g.strike) order.sort(([a], [b]) => a.size - b.size);
  for (const [x, i] of order) {
    const b = el("button", g.strike ? x.glyph : x.size + " pt", verdictOf(x) ? "settled" : "");
    b.type = "button";
    if (i === member) b.setAttribute("aria-current", "true");
    b.addEventListener("click", () => go(at, i));
    nav.append(b);
  }
  if (g.members.length > most) nav.append(el("span", `and ${g.members.length - most} more`, "soft"));
  return nav;
}

function sentences(c, d) {
  const ul = el("ul", undefined, "findings");
  for (const f of d.findings) {
    const li = el("li");
    li.append(el("span", f.severity, "sev " + f.severity), el("span", f.finding, "kind"), el("span", f.text));
    ul.append(li);
  }
  if (!d.findings.length) ul.append(el("li", "new: nobody has approved this glyph yet"));
  return ul;
}
