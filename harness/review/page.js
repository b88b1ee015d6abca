"use strict";
const data = JSON.parse(document.getElementById("data").textContent);
const sheet = document.getElementById("sheet"), loupe = document.getElementById("loupe");
const rowHeight = 64;
const decided = new Map(); // change → {verdict, why, until}
const past = [];           // undo: lists of [change, what was decided before]
let shown = [], at = 0;
let reason = ""; // outlives the loupe, which is built anew for each change

function el(tag, text, cls) {
  const e = document.createElement(tag);
  if (text !== undefined) e.textContent = text;
  if (cls) e.className = cls;
  return e;
}

// One cause, one decision: a finding of a glyph over all sizes is a group.
function first(c) { return c.findings.length ? c.findings[0].finding : c.status; }
function group(changes) {
  const by = new Map();
  for (const c of changes) {
    const k = JSON.stringify([c.face, c.device, c.glyph, first(c)]);
    if (!by.has(k)) by.set(k, []);
    by.get(k).push(c);
  }
  return [...by.values()];
}

const filters = {};
const kinds = {
  severity: c => c.severity || "new", finding: first, face: c => c.face,
  device: c => c.device, size: c => c.size + " pt",
};
for (const [name, of] of Object.entries(kinds)) {
  const s = el("select");
  s.setAttribute("aria-label", name);
  s.append(new Option("any " + name, ""));
  for (const v of new Set(data.changes.map(of))) s.append(new Option(v, v));
  s.addEventListener("change", () => { filters[name] = s.value; apply(); });
  document.getElementById("filters").append(s);
}

function apply() {
  shown = group(data.changes.filter(c => Object.entries(kinds).every(([n, of]) => !filters[n] || of(c) === filters[n])));
  at = Math.min(at, Math.max(0, shown.length - 1));
  sheet.scrollTop = 0;
  paintAll();
}

// Only the rows in view are in the document, however long the sheet is.
function paint() {
  const from = Math.max(0, Math.floor(sheet.scrollTop / rowHeight) - 2);
  const to = Math.min(shown.length, from + Math.ceil(sheet.clientHeight / rowHeight) + 5);
  const space = el("li");
  space.style.height = shown.length * rowHeight + "px";
  const rows = [space];
  for (let i = from; i < to; i++) rows.push(row(i));
  sheet.replaceChildren(...rows);
}

function paintAll() {
  paint();
  const open = data.changes.filter(c => !decided.has(c)).length;
  document.getElementById("left").textContent = open + " of " + data.changes.length + " to decide, gate: " + data.gate;
  paintLoupe();
}

function row(i) {
  const g = shown[i], c = g[0], li = el("li", undefined, "row");
  li.style.top = i * rowHeight + "px";
  if (i === at) li.setAttribute("aria-current", "true");
  const head = el("div");
  head.append(el("b", c.glyph), el("span", c.severity || "new", "sev " + (c.severity || "new")), " " + first(c));
  const d = decided.get(c);
  if (d) head.append(el("span", " · " + word(d.verdict), "soft"));
  li.append(head, el("small", c.face + ", " + c.device + ": " + g.map(x => x.size).join(", ") + " pt"));
  li.addEventListener("click", () => go(i));
  return li;
}

function word(v) { return { approve: "approved", reject: "rejected", later: "put off" }[v]; }

function go(i) {
  at = Math.max(0, Math.min(shown.length - 1, i));
  const top = at * rowHeight;
  if (top < sheet.scrollTop) sheet.scrollTop = top;
  if (top + rowHeight > sheet.scrollTop + sheet.clientHeight) sheet.scrollTop = top + rowHeight - sheet.clientHeight;
  if (shown[at]) history.replaceState(null, "", "#" + link(shown[at][0]));
  paintAll();
}

function link(c) { return [c.face, c.device, c.size, c.glyph].map(encodeURIComponent).join("/"); }

// unpack gives a function ink(x, y), Y up about the origin, from 0 to 1.
function unpack(p) {
  if (!p) return { left: 0, bottom: 0, right: 0, top: 0, ink: () => 0 };
  const bytes = Uint8Array.from(atob(p.rows), ch => ch.charCodeAt(0));
  const stride = Math.ceil(p.width * p.depth / 8), max = (1 << p.depth) - 1;
  return {
    left: p.left, bottom: p.bottom, right: p.left + p.width, top: p.bottom + p.height,
    ink(x, y) {
      const col = x - p.left, r = p.bottom + p.height - 1 - y;
      if (col < 0 || r < 0 || col >= p.width || r >= p.height) return 0;
      const bit = col * p.depth;
      return (bytes[r * stride + (bit >> 3)] >> (8 - p.depth - (bit & 7)) & max) / max;
    },
  };
}

function box(a, b) {
  const s = [a, b].filter(p => p.right > p.left);
  if (!s.length) return { left: 0, bottom: 0, right: 1, top: 1 };
  return {
    left: Math.min(...s.map(p => p.left)) - 1, bottom: Math.min(...s.map(p => p.bottom)) - 1,
    right: Math.max(...s.map(p => p.right)) + 1, top: Math.max(...s.map(p => p.top)) + 1,
  };
}

function plate(caption, b, scale, draw) {
  const f = el("figure"), cv = el("canvas");
  cv.width = (b.right - b.left) * scale;
  cv.height = (b.top - b.bottom) * scale;
  cv.setAttribute("role", "img");
  cv.setAttribute("aria-label", caption);
  const ctx = cv.getContext("2d");
  for (let y = b.bottom; y < b.top; y++)
    for (let x = b.left; x < b.right; x++) draw(ctx, x, y, (x - b.left) * scale, (b.top - 1 - y) * scale, scale);
  f.append(el("figcaption", caption), cv);
  f.canvas = cv;
  return f;
}

function ink(p) {
  return (ctx, x, y, px, py, s) => {
    const v = p.ink(x, y);
    if (v) { ctx.fillStyle = "rgba(20,18,15," + v + ")"; ctx.fillRect(px, py, s, s); }
  };
}

// Lost ink is a hollow square, gained ink a square with a cross: told apart by
// shape as well as by colour.
function change(g, d) {
  return (ctx, x, y, px, py, s) => {
    const a = g.ink(x, y), b = d.ink(x, y);
    if (a && b) { ctx.fillStyle = "rgba(20,18,15,.3)"; ctx.fillRect(px, py, s, s); }
    if (a === b) return;
    ctx.lineWidth = Math.max(1, s / 8);
    ctx.strokeStyle = ctx.fillStyle = a > b ? "#b5400f" : "#1f5fa8";
    if (a > b) { ctx.strokeRect(px + s * .15, py + s * .15, s * .7, s * .7); return; }
    ctx.fillRect(px, py, s, s);
    ctx.strokeStyle = "#fff";
    ctx.beginPath();
    ctx.moveTo(px + s * .2, py + s * .2); ctx.lineTo(px + s * .8, py + s * .8);
    ctx.moveTo(px + s * .8, py + s * .2); ctx.lineTo(px + s * .2, py + s * .8);
    ctx.stroke();
  };
}

function outline(cv, c, b, s) {
  if (!c.outline) return;
  const ctx = cv.getContext("2d");
  ctx.setTransform(s / 64, 0, 0, -s / 64, -b.left * s, b.top * s); // Y is flipped here, once
  ctx.lineWidth = 64 / s * 1.5;
  ctx.strokeStyle = "#7a4a9e";
  ctx.stroke(new Path2D(c.outline));
}

function weights(c) {
  const w = c.weights, bytes = Uint8Array.from(atob(w.bytes), ch => ch.charCodeAt(0));
  return (ctx, x, y, px, py, s) => {
    const col = x - w.left, r = w.bottom + w.height - 1 - y;
    if (col < 0 || r < 0 || col >= w.width || r >= w.height) return;
    ctx.fillStyle = "rgba(122,74,158," + bytes[r * w.width + col] / 255 + ")";
    ctx.fillRect(px, py, s, s);
  };
}

function paintLoupe() {
  const g = shown[at];
  if (!g) { loupe.replaceChildren(el("p", "Nothing to show. Loosen the filters, or be glad.")); return; }
  const c = g[0], a = unpack(c.golden), d = unpack(c.candidate), b = box(a, d);
  const s = Math.max(4, Math.min(16, Math.floor(300 / Math.max(b.right - b.left, b.top - b.bottom))));
  const plates = el("div", undefined, "plates");
  if (c.golden) plates.append(plate("golden", b, s, ink(a)));
  if (c.candidate) {
    const p = plate("candidate and outline", b, s, ink(d));
    outline(p.canvas, c, b, s);
    plates.append(p);
  }
  if (c.golden && c.candidate) plates.append(plate("□ lost, ⊠ gained", b, s, change(a, d)));
  if (c.weights) plates.append(plate("weights", b, s, weights(c)));
  const list = el("ul");
  for (const f of c.findings) {
    const li = el("li");
    li.append(el("span", f.severity, "sev " + f.severity), " " + f.finding + ": " + f.text);
    list.append(li);
  }
  if (!c.findings.length) list.append(el("li", "new: nobody has approved this glyph yet"));
  loupe.replaceChildren(el("h2", c.glyph), el("p", c.face + ", " + c.device + ", " + c.size + " pt at " + c.dpi + " dpi" + (c.verdict ? ", " + word(c.verdict) + (c.until ? " until " + c.until : "") : ""), "soft"),
    plates, list, ramp(c), decide(g));
}

function ramp(c) {
  const r = el("div", undefined, "ramp");
  const same = data.changes.filter(x => x.face === c.face && x.device === c.device && x.glyph === c.glyph).sort((x, y) => x.size - y.size);
  if (same.length < 2) return r;
  for (const x of same) {
    const a = unpack(x.golden), d = unpack(x.candidate), btn = el("button");
    btn.type = "button";
    btn.append(plate(x.size + " pt", box(a, d), 3, change(a, d)));
    btn.addEventListener("click", () => show(x));
    r.append(btn);
  }
  return r;
}

// show brings one change of its group under the loupe.
function show(c) {
  const i = shown.findIndex(g => g.includes(c));
  if (i < 0) return;
  shown[i] = [c, ...shown[i].filter(x => x !== c)];
  go(i);
}

function decide(g) {
  const div = el("div", undefined, "decide"), why = el("input");
  why.id = "why";
  why.placeholder = "reason";
  why.value = reason;
  why.addEventListener("input", () => { reason = why.value; });
  why.setAttribute("aria-label", "reason");
  div.append(why);
  for (const [v, t] of [["approve", "Approve"], ["reject", "Reject"], ["later", "Put off"]]) {
    const btn = el("button", t + (g.length > 1 ? " all " + g.length : ""));
    btn.type = "button";
    btn.addEventListener("click", () => settle(v));
    div.append(btn);
  }
  return div;
}

function settle(verdict) {
  const g = shown[at], why = reason.trim();
  if (!g) return;
  if (!why) { document.getElementById("why").focus(); document.getElementById("left").textContent = "A decision needs a reason."; return; }
  past.push(g.map(c => [c, decided.get(c)]));
  for (const c of g) if (c.candidate) decided.set(c, { verdict, why, until: "" });
  go(at + 1);
}

function undo() {
  for (const [c, before] of past.pop() || []) before ? decided.set(c, before) : decided.delete(c);
  paintAll();
}

function save() {
  const list = [...decided].map(([c, d]) => ({ face: c.face, device: c.device, size: c.size, glyph: c.glyph, digest: c.digest, ...d }));
  const a = el("a");
  a.href = "data:application/json," + encodeURIComponent(JSON.stringify({ version: 1, by: "", decisions: list }, null, 1));
  a.download = "decisions.json";
  a.click();
}

document.getElementById("export").addEventListener("click", save);
sheet.addEventListener("scroll", paint);
addEventListener("resize", paint);
addEventListener("keydown", e => {
  if (e.ctrlKey || e.metaKey || e.altKey || e.target.matches("input, select")) {
    if (e.key === "Escape") sheet.focus();
    return;
  }
  const act = { ArrowDown: () => go(at + 1), ArrowUp: () => go(at - 1), Home: () => go(0), End: () => go(shown.length - 1),
    a: () => settle("approve"), x: () => settle("reject"), l: () => settle("later"), u: undo, s: save }[e.key];
  if (act) { e.preventDefault(); act(); }
});

apply();
if (location.hash) {
  const c = data.changes.find(x => "#" + link(x) === location.hash);
  if (c) show(c);
}
