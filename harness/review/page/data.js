"use strict";
// What the page knows: rows of the head at once, pictures on demand.

const served = document.documentElement.dataset.way === "served";
const severities = ["critical", "major", "minor", "trace"];
let head, changes = [], causes = [], byKey = new Map(), strikeNumber = new Map(), byStrike = new Map();

function take(h) {
  head = h;
  document.documentElement.dataset.decidable = h.decidable;
  byId("of").textContent = h.of;
  document.title = "Smoke proof" + (h.of && ": ") + h.of;
  forget();
  changes = h.rows.map(changeOf);
  causes = h.causes.map(({ kind, text, rows, rest }) => ({ kind, text, rest, members: rows.map(i => changes[i]) }));
  strikeNumber = new Map(h.strikes.map(([f, d, s], n) => [[h.faces[f], h.devices[d], h.sizes[s]].join("\n"), n]));
  index();
  byId("overhauls").replaceChildren(...(h.advice ? [el("p", h.advice)] : []), ...h.overhauls.map(overhaul));
  if (!h.decidable && h.overhauls.length === 1) byId("overhauls").firstChild.open = true;
}

// changeOf is a change by its row, of the head or of a file of the rest. Its pictures are in a plates file.
function changeOf(row) {
  const [face, device, size, dpi, glyph, code, status, severity, kind, score, lost, gained, verdict, until, digest, over, plates, family, member] = row;
  const c = {
    code, status, score, lost, gained, verdict, until, digest, over, plates, family, member,
    face: head.faces[face], device: head.devices[device], size: head.sizes[size], dpi: head.dpis[dpi], glyph: head.glyphs[glyph],
    severity: severity < 0 ? "new" : severities[severity], kind: head.kinds[kind],
  };
  c.strike = c.face + "\n" + c.device + "\n" + c.size;
  c.key = c.strike + "\n" + c.glyph;
  return c;
}

// index finds changes by their keys, and by strike and code point.
function index() {
  byKey = new Map(changes.map(c => [c.key, c]));
  byStrike = new Map();
  for (const c of changes) {
    if (!byStrike.has(c.strike)) byStrike.set(c.strike, new Map());
    byStrike.get(c.strike).set(c.code, c);
  }
}

// overhaul tells what befell a face that changed all over, and what shows of it.
function overhaul(o) {
  const d = el("details"), list = el("ul");
  list.append(...o.signs.map(s => el("li", s)));
  d.append(el("summary", o.text), el("p", o.where, "where"), list);
  return d;
}

// A link to a change is its key, each part encoded.
function link(c) { return [c.face, c.device, c.size, c.glyph].map(encodeURIComponent).join("/"); }
function linked() {
  try { return byKey.get(location.hash.slice(1).split("/").map(decodeURIComponent).join("\n")); } catch { return undefined; }
}

// follow goes to the change that the address names, if there is one, be it among the rest.
async function follow() {
  if (location.hash.length > 1 && !linked()) await readRest(causes);
  const c = linked();
  if (c && c !== current()) goTo(c);
}

// Data files are scripts that call arrived, for a page on disk can read nothing else.
const waiting = new Map(); // "kind-number" → {promise, resolve}
const mostFiles = 160;

function forget() { waiting.clear(); }

function file(kind, n) {
  const name = kind + "-" + n;
  if (waiting.has(name)) return waiting.get(name).promise;
  if (waiting.size > mostFiles) waiting.delete(waiting.keys().next().value);
  const w = {};
  w.promise = new Promise((resolve, reject) => { w.resolve = resolve; w.reject = reject; });
  w.promise.catch(() => {});
  waiting.set(name, w);
  const s = document.createElement("script");
  s.src = "data/" + name + ".js" + (served ? "?results=" + head.version : "");
  s.onerror = () => { waiting.delete(name); w.reject(new Error(s.src + " cannot be read")); };
  s.onload = () => s.remove();
  document.head.append(s);
  return w.promise;
}

function arrived(kind, n, list) {
  const w = waiting.get(kind + "-" + n);
  if (w) w.resolve(list);
}

// detail gives a change's plates and the sizes at which its glyph stands.
async function detail(c) {
  if (c.detail) return c.detail;
  const family = (await file("plates", c.plates))[c.family];
  const p = family.changes[c.member];
  return {
    golden: unpack(p.g), candidate: unpack(p.c), outline: p.o || "", weights: p.w,
    reason: p.r, findings: p.f.map(([finding, severity, text, px, place]) => ({ finding, severity, text, px, place })),
    standing: family.standing.map(([size, pic]) => ({ size, picture: unpack(pic) })),
    sizes: family.changes.map(x => ({ size: x.z, golden: unpack(x.g), candidate: unpack(x.c) })).filter(x => x.size),
  };
}

// letters gives the strike's letters that stand, by code point.
async function letters(c) {
  const n = strikeNumber.get(c.strike);
  if (n === undefined) return new Map();
  return new Map((await file("words", n)).map(([code, pic]) => [code, unpack(pic)]));
}

// legible makes a stranger's name safe to show: what is no visible character, and
// might turn a line round, becomes its code point.
function legible(text) {
  return String(text).replace(/[\p{C}\p{Zl}\p{Zp}]/gu, ch => `<U+${ch.codePointAt(0).toString(16).toUpperCase().padStart(4, "0")}>`);
}

function el(tag, text, cls) {
  const e = document.createElement(tag);
  if (text !== undefined) e.textContent = legible(text);
  if (cls) e.className = cls;
  return e;
}
// keyCap shows which key does what the control beside it does; a screen reader has the control.
function keyCap(key) {
  const k = el("kbd", key);
  k.setAttribute("aria-hidden", "true");
  return k;
}
function byId(id) { return document.getElementById(id); }
