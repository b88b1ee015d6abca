// Decisions: what was decided, on which bitmap, and how to take it back.

const decided = new Map(); // key → {verdict, why, until, digest, over}
const past = [];           // what can be undone: lists of [key, what stood before], of a served page [act, key]
const words = { approve: "approved", reject: "rejected", later: "put off" };
let scope = "row";         // what a decision settles: "one", "row" or "shown"
let unsaved = false;
let given = {};            // the last decision's verdict and reason

// verdictOf is a decision made here, else one that stands already.
function verdictOf(c) {
  const d = decided.size && decided.get(c.key);
  if (d && d.digest === c.digest && d.over === c.over) return d;
  return c.verdict ? { verdict: c.verdict, until: c.until, why: "" } : null;
}

// byHand: a bitmap that somebody made stands where the candidate would go.
function byHand(c) { return c.kind === "unapproved"; }

function verdictText(v) { return words[v.verdict] + (v.until ? " until " + v.until : ""); }

// inScope lists what one decision on c would settle, open ones only but for c.
function inScope(c, which) {
  const list = { one: [c], row: shown[at].members, shown: visible }[which];
  return list.filter(x => x === c || !verdictOf(x));
}

// scopeSize counts that list, with what of the row is not read; what is shown may be long, and is counted when it changes.
function scopeSize(c, which) {
  return which === "shown" ? openShown + !!verdictOf(c) : inScope(c, which).length + (which === "row" ? unread(shown[at].of) : 0);
}

function paintScope(c) {
  const f = byId("scope"), names = { one: "this one", row: "this row", shown: "all that is shown" };
  const choices = Object.entries(names).map(([value, name], i) => {
    const l = el("label"), r = el("input");
    r.type = "radio"; r.name = "scope"; r.value = value; r.checked = value === scope;
    r.addEventListener("change", () => chooseScope(value));
    l.append(r, " " + name + (value === "one" ? "" : " (" + scopeSize(c, value).toLocaleString("en") + ")") + " ", keyCap(i + 1));
    return l;
  });
  f.replaceChildren(f.firstElementChild, ...choices);
}

function paintDecide() {
  const c = current();
  byId("decide").hidden = !c;
  if (!c) return;
  paintScope(c);
  const n = scopeSize(c, scope);
  for (const b of document.querySelectorAll("[data-verdict]")) {
    const v = b.dataset.verdict;
    b.replaceChildren(keyCap(v[0] === "r" ? "x" : v[0]), " " + { approve: "Approve", reject: "Reject", later: "Put off" }[v] + (n > 1 ? " " + n.toLocaleString("en") : ""));
  }
  byId("undo").disabled = !past.length;
}

function say(text) { byId("said").textContent = legible(text); }

// settle decides the scope of the current change and goes on to the next open one.
async function settle(verdict) {
  const c = current(), why = byId("why").value.trim(), until = verdict === "approve" ? "" : byId("until").value;
  if (!c) return;
  if (served && !byId("by").value.trim()) { say("Say who decides first."); byId("by").focus(); return; }
  if (!why) { say("A decision needs a reason."); byId("why").focus(); return; }
  if (why === given.why && verdict !== given.verdict) {
    say(`That is why something was ${words[given.verdict]}: write another reason (w), or press again.`);
    given = {};
    return;
  }
  const more = scope === "row" ? unread(shown[at].of) : 0;
  if (more) {
    if (await readRest(shown[at].of)) say(`${more.toLocaleString("en")} more of this row are read now, and nobody has looked at them: do, or press again.`);
    return;
  }
  let list = inScope(c, scope);
  if (verdict === "approve") list = list.filter(x => x.status !== "undrawn" && (x === c || !byHand(x)));
  if (!list.length) { say("What was not drawn cannot be approved; reject it or put it off."); return; }
  given = { verdict, why };
  if (scope === "shown") scope = "row"; // so wide a decision is asked for each time
  const entries = list.map(x => [x.key, { verdict, why, until, digest: x.digest, over: x.over }]);
  if (served) {
    if (await postDecisions(list, verdict, why, until)) nextOpen();
    return;
  }
  past.push(entries.map(([k]) => [k, decided.get(k)]));
  for (const [k, d] of entries) decided.set(k, d);
  say((entries.length > 1 ? entries.length + " glyphs " : c.glyph + " ") + verdictText({ verdict, until }) + ".");
  keep();
  paintDecided();
  nextOpen();
}

function undo() {
  given = {};
  if (served) { postUndo(); return; }
  const last = past.pop();
  if (!last) return;
  for (const [k, before] of last) before ? decided.set(k, before) : decided.delete(k);
  say("Taken back: " + last.length + ".");
  keep();
  paintDecided();
  goTo(byKey.get(last[0][0]));
}

function decision(c, d) {
  return { face: c.face, device: c.device, size: c.size, glyph: c.glyph, digest: d.digest, over: d.over, verdict: d.verdict, why: d.why, until: d.until };
}

function save() {
  if (served) return;
  const list = changes.filter(c => decided.has(c.key) && verdictOf(c) === decided.get(c.key)).map(c => decision(c, decided.get(c.key)));
  const files = Math.max(1, Math.ceil(list.length / mostSaved));
  for (let n = 0; n < files; n++) download(list.slice(n * mostSaved, (n + 1) * mostSaved), files > 1 ? `decisions-${n + 1}.json` : "decisions.json");
  unsaved = false;
  say(list.length + " decisions saved" + (files > 1 ? ` in ${files} files; carry each out with: smokeproof approve --decisions decisions-1.json` : "; carry them out with: smokeproof approve --decisions decisions.json"));
}

const mostSaved = 20000; // decisions of a file: some 8 MB, and approve reads 64

function download(list, name) {
  const a = el("a"), url = URL.createObjectURL(new Blob([JSON.stringify({ version: 1, by: byId("by").value.trim(), decisions: list }, null, 1)], { type: "application/json" }));
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

// keep lets decisions outlive the page, where the browser has a place for them.
const place = "smokeproof " + location.pathname;
let keeping = 0;
function keep() {
  unsaved = true;
  clearTimeout(keeping);
  keeping = setTimeout(() => { unsaved = !store(place, JSON.stringify([...decided])); }, 200);
}

function store(key, value) {
  try { localStorage.setItem(key, value); return true; } catch { return false; } // private window, or full: the page warns before it closes
}

function stored(key) {
  try { return localStorage.getItem(key); } catch { return null; }
}

// leave keeps filters, reason and what can be undone for a page that is only loaded anew.
function leave() {
  try { sessionStorage.setItem(place, JSON.stringify({ asked, past, why: byId("why").value, until: byId("until").value })); } catch { /* as a private window */ }
}

// comeBack takes up what leave kept.
function comeBack() {
  let was;
  try { was = JSON.parse(sessionStorage.getItem(place)); } catch { /* not ours */ }
  if (!was || !Array.isArray(was.past)) return;
  Object.assign(asked, was.asked);
  past.push(...was.past);
  byId("why").value = was.why || "";
  byId("until").value = was.until || "";
}

// recall takes up the decisions of an earlier sitting, and reads the rest where some are about it.
async function recall() {
  byId("by").value = stored("smokeproof by") || head.by || "";
  byId("by").addEventListener("change", () => store("smokeproof by", byId("by").value.trim()));
  if (served) return;
  let list = [];
  try { list = JSON.parse(stored(place)) || []; } catch { /* not ours */ }
  if (list.some(([k]) => !byKey.has(k))) await readRest(causes);
  for (const [k, d] of list) {
    const c = byKey.get(k);
    if (c && d && words[d.verdict] && d.digest === c.digest && d.over === c.over) decided.set(k, d);
  }
  if (decided.size) say(decided.size + " decisions of an earlier sitting are still here; s saves them.");
}
