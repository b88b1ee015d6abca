// The contact sheet: a row a cause, worst first. Only rows in view are in the
// document, however long the sheet is.

const rowHeight = 76;
const mounted = new Map(); // row number → element

function paintContact() {
  for (const r of mounted.values()) r.remove();
  mounted.clear();
  byId("strip").style.height = shown.length * rowHeight + "px";
  mountRows();
}

function mountRows() {
  const sheet = byId("contact"), strip = byId("strip");
  const from = Math.max(0, Math.floor(sheet.scrollTop / rowHeight) - 3);
  const to = Math.min(shown.length, Math.ceil((sheet.scrollTop + sheet.clientHeight) / rowHeight) + 3);
  for (const [i, r] of mounted) if (i < from || i >= to) { r.remove(); mounted.delete(i); }
  for (let i = from; i < to; i++) {
    if (mounted.has(i)) continue;
    const r = contactRow(i);
    mounted.set(i, r);
    strip.append(r);
  }
  clearTimeout(mountRows.later);
  mountRows.later = setTimeout(paintThumbs, 40);
  if (shown[at]) sheet.setAttribute("aria-activedescendant", "row-" + at);
}

function contactRow(i) {
  const g = shown[i], c = g.members[0], row = el("div", undefined, "row");
  row.id = "row-" + i;
  row.setAttribute("role", "option");
  row.setAttribute("aria-setsize", shown.length);
  row.setAttribute("aria-posinset", i + 1);
  row.setAttribute("aria-selected", i === at);
  row.style.top = i * rowHeight + "px";
  const text = el("div", undefined, "text"), top = el("div", undefined, "top");
  top.append(el("b", g.strike && g.members.length > 1 ? g.members.length + " glyphs" : c.glyph), el("span", c.kind, "kind"));
  const where = g.strike && g.members.length > 1 ? `${c.size} pt: ${g.members.slice(0, 12).map(x => x.glyph).join(" ")}` : `${sizes(g)} pt`;
  text.append(top, el("div", where, "where"), el("div", c.face + ", " + c.device, "where"));
  row.append(el("div", undefined, "thumb"), text, mark(g));
  row.addEventListener("click", () => { go(i); byId("contact").focus({ preventScroll: true }); });
  return row;
}

function sizes(g) { return g.members.map(x => x.size).sort((a, b) => a - b).join(", "); }

// mark is the severity by shape and word, and how far the decision is.
function mark(g) {
  const c = g.members[0], m = el("div", undefined, "mark"), n = g.members.filter(verdictOf).length;
  m.append(el("span", c.severity, "sev " + c.severity));
  if (n) {
    const all = new Set(g.members.map(x => verdictOf(x) && verdictOf(x).verdict));
    m.append(el("span", n < g.members.length ? `${n} of ${g.members.length}` : all.size === 1 ? words[[...all][0]] : "decided", "soft"));
  }
  return m;
}

// paintThumbs draws once scrolling rests, so a quick scroll reads no files.
function paintThumbs() {
  for (const [i, row] of mounted) {
    const c = shown[i] && shown[i].members[0], into = row.firstElementChild;
    if (!c || into.firstElementChild) continue;
    detail(c).then(d => {
      if (into.firstElementChild || mounted.get(i) !== row) return;
      const b = box(d.golden, d.candidate, 0), { canvas, each } = canvasFor(b, plateScale(b, c.dpi, 56, .2, 6), c.dpi);
      each(drawChange(d));
      into.append(canvas);
    }, () => {});
  }
}

function paintCount() {
  const open = changes.reduce((n, c) => n + !verdictOf(c), 0), p = byId("done");
  byId("left").textContent = (head.looked ? `${changes.length.toLocaleString("en")} drawings with faults, nothing approved beside them`
    : `${open.toLocaleString("en")} of ${changes.length.toLocaleString("en")} left`) +
    (visible.length < changes.length ? `, ${visible.length.toLocaleString("en")} shown` : "");
  p.max = Math.max(1, changes.length);
  p.value = changes.length - open;
}
