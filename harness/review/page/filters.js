// Filters: which changes are shown, and folded how.

let visible = [], shown = [], at = 0, member = 0; // what passes, its rows, and the row and member under the loupe
const asked = { state: "", fold: "", name: "" };
const kinds = {
  severity: c => c.severity, finding: c => c.kind, face: c => c.face, device: c => c.device, size: c => c.size,
};

function select(name, options, first) {
  const s = el("select");
  s.name = name;
  s.setAttribute("aria-label", name);
  if (first) s.append(new Option(first, ""));
  for (const [value, text] of options) s.append(new Option(legible(text), value));
  s.value = asked[name] || s.options[0].value;
  s.addEventListener("change", () => { asked[name] = s.value; at = 0; apply(); });
  return s;
}

function buildFilters() {
  asked.fold ||= causes.length > manyCauses ? "finding" : "cause";
  const f = byId("filters"), parts = [];
  for (const [name, of] of Object.entries(kinds)) {
    const count = new Map();
    for (const c of changes) count.set(of(c), (count.get(of(c)) || 0) + 1);
    if (count.size < 2 && !asked[name]) continue; // it would choose nothing
    const order = name === "severity" ? [...severities, "new"].filter(v => count.has(v))
      : name === "size" ? [...count.keys()].sort((a, b) => a - b) : [...count.keys()].sort();
    parts.push(select(name, order.map(v => [v, `${v}${name === "size" ? " pt" : ""} (${count.get(v)})`]), "any " + name));
  }
  if (head.decidable) parts.push(select("state", [["open", "to decide"], ["decided", "decided"]], "any state"));
  parts.push(select("fold", Object.entries(folds)));
  const name = el("input");
  name.type = "search"; name.name = "name"; name.placeholder = "glyph"; name.value = asked.name;
  name.setAttribute("aria-label", "glyph");
  name.addEventListener("input", () => { asked.name = name.value.trim(); at = 0; apply(); });
  f.replaceChildren(name, ...parts);
}

// nextFold folds the sheet otherwise, as the fold's list says.
function nextFold() {
  const names = Object.keys(folds);
  asked.fold = names[(names.indexOf(asked.fold) + 1) % names.length];
  byId("filters").elements.fold.value = asked.fold;
  apply();
}

function passes(c) {
  for (const k in kinds) if (asked[k] && kinds[k](c) !== asked[k]) return false;
  if (asked.state && (asked.state === "decided") !== !!verdictOf(c)) return false;
  return !asked.name || c.glyph.includes(asked.name) || c.code > 0 && String.fromCodePoint(c.code) === asked.name;
}

// apply keeps the change under the loupe where the filters let it stay.
function apply() {
  const before = current() && byKey.get(current().key);
  visible = changes.filter(c => (c.row = -1, c.passes = passes(c)));
  shown = foldRows(asked.fold, visible);
  shown.forEach((g, i) => g.members.forEach((c, m) => { c.row = i; c.slot = m; }));
  at = Math.min(at, Math.max(0, shown.length - 1));
  member = shown[at] ? shown[at].lead : 0;
  if (before) find(before);
  byId("contact").scrollTop = Math.max(0, at * rowHeight - byId("contact").clientHeight / 2);
  paintAll();
}

function current() { return shown[at] && shown[at].members[member]; }

function find(c) {
  if (c.row >= 0) [at, member] = [c.row, c.slot];
  return c.row >= 0;
}

function go(i, m) {
  at = Math.max(0, Math.min(shown.length - 1, i));
  member = m ?? (shown[at] ? shown[at].lead : 0);
  const sheet = byId("contact"), top = at * rowHeight;
  if (top < sheet.scrollTop) sheet.scrollTop = top;
  if (top + rowHeight > sheet.scrollTop + sheet.clientHeight) sheet.scrollTop = top + rowHeight - sheet.clientHeight;
  if (current()) history.replaceState(null, "", "#" + link(current()));
  paintChosen();
  paintLoupe();
}

function step(by) {
  const g = shown[at];
  if (g) go(at, Math.max(0, Math.min(g.members.length - 1, member + by)));
}

function goTo(c) {
  if (!find(c)) {
    for (const k in asked) asked[k] = k === "fold" ? asked[k] : "";
    buildFilters();
    apply();
    find(c);
  }
  go(at, member);
}

// nextOpen goes to the next row with something to decide, from here on and then
// from the top.
function nextOpen() {
  const n = shown.length;
  for (let k = 0; k < n; k++) {
    const i = (at + k) % n, g = shown[i], m = verdictOf(g.worst) ? g.members.findIndex(c => !verdictOf(c)) : g.lead;
    if (m < 0 && unread(g.of)) { go(i, g.lead); return; }
    if (m >= 0) { go(i, m); return; }
  }
  go(at, member);
}
