// The contact sheet: rows of changes, worst first. Only rows in view are in the
// document, however long the sheet is.

const rowHeight = 76;
const mounted = new Map(); // row number → element
let openShown = 0; // of what is shown, how much is not decided

function paintContact() {
  for (const r of mounted.values()) r.remove();
  mounted.clear();
  byId("strip").style.height = shown.length * rowHeight + "px";
  mountRows();
}

function paintChosen() {
  for (const [i, r] of mounted) r.setAttribute("aria-selected", i === at);
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
  const g = shown[i], row = el("div", undefined, "row");
  row.id = "row-" + i;
  row.setAttribute("role", "option");
  row.setAttribute("aria-setsize", shown.length);
  row.setAttribute("aria-posinset", i + 1);
  row.setAttribute("aria-selected", i === at);
  row.style.top = i * rowHeight + "px";
  const text = el("div", undefined, "text"), kind = el("div", g.text, "kind");
  kind.title = legible(g.text);
  text.append(rowLine(rowTitle(g), el("span", g.worst.severity, "sev " + g.worst.severity)), rowLine(kind, mark(g)), rowWhere(g));
  row.append(el("div", undefined, "thumb"), text);
  row.addEventListener("click", () => { go(i); byId("contact").focus({ preventScroll: true }); });
  return row;
}

function rowTitle(g) {
  const [name, more] = rowName(g), b = el("b"), rest = el("span", undefined, "soft");
  b.append(el("span", name, "name"));
  if (more) b.append(" ", rest);
  rest.append(el("i", "and "), more, el("i", " more"));
  return b;
}

// rowWhere keeps the sizes whole, and cuts names of faces and devices where there is no room for all.
function rowWhere(g) {
  const w = el("div", undefined, "where"), { faces, sizes, devices } = rowPlace(g);
  if (faces) w.append(el("span", faces + ", "));
  w.append(el("span", sizes + ", ", "sizes"), el("span", devices));
  w.title = legible(w.textContent);
  return w;
}

// rowLine is what may be cut, and what may not at its end.
function rowLine(first, last) {
  const l = el("div", undefined, "line");
  l.append(first, last);
  return l;
}

// mark is how many changes the row holds, and how far their decision is.
function mark(g) {
  const n = g.members.filter(verdictOf).length, all = g.members.length + unread(g.of);
  if (n && n === all) {
    const verdicts = new Set(g.members.map(x => verdictOf(x).verdict));
    return el("span", verdicts.size === 1 ? words[[...verdicts][0]] : "decided", "mark soft");
  }
  return el("span", n ? `${n.toLocaleString("en")} of ${all.toLocaleString("en")}` : all > 1 ? "×\u2009" + all.toLocaleString("en") : "", "mark soft");
}

// paintThumbs draws once scrolling rests, so a quick scroll reads no files.
function paintThumbs() {
  for (const [i, row] of mounted) if (shown[i] && !row.firstElementChild.firstElementChild) paintThumb(row.firstElementChild, shown[i].worst, 56);
}

function paintCount() {
  document.documentElement.dataset.empty = !changes.length;
  const count = list => list.reduce((n, c) => n + !verdictOf(c), 0), all = changes.length + unread(causes), open = count(changes) + unread(causes), p = byId("done");
  openShown = count(visible);
  byId("left").textContent = (!head.decidable ? `${all.toLocaleString("en")} drawings ${head.looked ? "with faults by their own outlines" : "differ"}`
    : `${open.toLocaleString("en")} of ${all.toLocaleString("en")} left`) +
    (visible.length < changes.length ? `, ${visible.length.toLocaleString("en")} shown` : "") + ` in ${shown.length.toLocaleString("en")} ${shown.length === 1 ? "row" : "rows"}`;
  byId("save").classList.toggle("due", !open && decided.size > 0);
  p.max = Math.max(1, all);
  p.value = all - open;
  paintRest();
}
