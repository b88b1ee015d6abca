// The glyph in a word, golden line over candidate line, spaced by their advances;
// and the same lines at true size.

// wordAround gives code points; anything that is no Latin letter or figure stands
// between letters of its kind. The words come with the head.
function wordAround(code) {
  const ch = code > 0 ? String.fromCodePoint(code) : "", lower = ch.toLowerCase(), upper = ch !== lower;
  if (Object.hasOwn(head.words, lower)) return [...(upper ? head.words[lower].toUpperCase() : head.words[lower])].map(x => x.codePointAt(0));
  const [before, after] = /[0-9]/.test(ch) ? ["10", "18"] : upper ? ["HO", "NE"] : ["no", "on"];
  return [...before].map(x => x.codePointAt(0)).concat([code], [...after].map(x => x.codePointAt(0)));
}

// setWord gives the pictures of both lines, changed letters with both of theirs.
async function setWord(c, d) {
  const still = await letters(c), kin = byStrike.get(c.strike), out = [];
  for (const code of wordAround(c.code)) {
    const x = code === c.code ? c : kin.get(code);
    if (x) {
      const p = x === c ? d : await detail(x);
      out.push({ golden: p.golden, candidate: p.candidate, changed: x, here: x === c });
    } else if (still.has(code)) out.push({ golden: still.get(code), candidate: still.get(code) });
  }
  return out;
}

// lineBox is what both lines need, so that one lies exactly over the other.
function lineBox(letters) {
  const pics = letters.flatMap(l => [l.golden, l.candidate]).filter(p => p && p.height);
  const width = side => letters.reduce((x, l) => x + (l[side] || l.golden || l.candidate || noInk).advance, 0);
  return {
    left: -2, right: Math.max(width("golden"), width("candidate")) + 2,
    bottom: Math.min(0, ...pics.map(p => p.bottom)), top: Math.max(1, ...pics.map(p => p.top)),
  };
}

function drawLine(ctx, b, letters, side) {
  let pen = 0;
  const spans = [];
  for (const l of letters) {
    const p = l[side] || noInk;
    for (let y = p.bottom; y < p.top; y++) for (let x = p.left; x < p.right; x++) {
      const v = p.ink(x, y);
      if (v) { ctx.fillStyle = `rgba(${paper.ink},${v})`; ctx.fillRect(pen + x - b.left, b.top - 1 - y, 1, 1); }
    }
    const advance = (l[side] || l.golden || l.candidate || noInk).advance;
    spans.push([pen, pen + advance]);
    pen += advance;
  }
  return spans;
}

// sides are the lines that there are: nothing is approved where somebody only looks.
function sides() { return head.looked ? ["candidate"] : ["golden", "candidate"]; }
function called(side) { return head.sides[side === "golden" ? 0 : 1]; }

function word(c, letters) {
  if (letters.length < 2) return null;
  const b = lineBox(letters), scale = Math.max(.5, Math.min(4, Math.floor(2 * Math.min(900, loupeWidth() - 100) / ((b.right - b.left) * aspect(c.dpi))) / 2));
  const div = el("div", undefined, "lines"), text = wordAround(c.code).map(x => x > 0 ? String.fromCodePoint(x) : "").join("");
  for (const side of sides()) {
    const room = { ...b, bottom: b.bottom - 5, top: b.top + 1 };
    const { canvas, ctx } = canvasFor(room, scale, c.dpi, `${called(side)} line: ${text}`);
    const spans = drawLine(ctx, room, letters, side);
    if (side === "candidate") letters.forEach((l, i) => { if (l.changed) tick(ctx, (spans[i][0] + spans[i][1]) / 2 - b.left, room.top - b.bottom + 1.5, l.here); });
    const f = el("figure");
    f.append(el("figcaption", called(side)), canvas);
    div.append(f);
  }
  return section("In a word", div);
}

// tick points from below at a changed letter; the one under the loupe is filled.
function tick(ctx, x, y, here) {
  ctx.beginPath();
  ctx.moveTo(x, y); ctx.lineTo(x - 1.6, y + 2.6); ctx.lineTo(x + 1.6, y + 2.6); ctx.closePath();
  ctx.fillStyle = ctx.strokeStyle = paper.outline;
  ctx.lineWidth = .4;
  here ? ctx.fill() : ctx.stroke();
}

// True size needs the screen's CSS pixels a millimetre: a card says how many.
const cardWidth = 85.6; // mm, ISO/IEC 7810 ID-1
let perMM = Number(stored("smokeproof px per mm")) || 96 / 25.4;

function trueSize(c, letters) {
  if (letters.length < 2) return null;
  const b = lineBox(letters), [dx, dy] = [...c.dpi.split("x"), c.dpi].map(Number), div = el("div", undefined, "lines true");
  const w = b.right - b.left, h = b.top - b.bottom;
  for (const side of sides()) {
    const at1 = el("canvas"), cv = el("canvas"), sharp = devicePixelRatio || 1;
    at1.width = w; at1.height = h;
    drawLine(at1.getContext("2d"), b, letters, side);
    const cssW = w * 25.4 / dx * perMM, cssH = h * 25.4 / (Number.isNaN(dy) ? dx : dy) * perMM;
    cv.width = Math.max(1, Math.round(cssW * sharp));
    cv.height = Math.max(1, Math.round(cssH * sharp));
    cv.style.width = cssW + "px";
    cv.style.height = cssH + "px";
    cv.setAttribute("role", "img");
    cv.setAttribute("aria-label", called(side) + " line at true size");
    const ctx = cv.getContext("2d");
    ctx.imageSmoothingQuality = "high";
    ctx.drawImage(at1, 0, 0, cv.width, cv.height);
    const f = el("figure");
    f.append(el("figcaption", called(side)), cv);
    div.append(f);
  }
  const b1 = el("button", "Calibrate this screen");
  b1.type = "button";
  b1.addEventListener("click", () => byId("calibrate").showModal());
  return section("At true size", div, b1);
}

function buildCalibration() {
  const card = byId("card"), range = byId("per-mm");
  const fit = () => {
    card.style.width = cardWidth * perMM + "px";
    card.style.height = 53.98 * perMM + "px";
    byId("ruler").style.backgroundSize = 10 * perMM + "px 100%, " + perMM + "px 50%";
    byId("ruler").style.width = 80 * perMM + "px";
  };
  range.value = perMM;
  range.addEventListener("input", () => { perMM = Number(range.value); fit(); });
  byId("calibrate").addEventListener("close", () => { store("smokeproof px per mm", perMM); paintLoupe(); });
  fit();
}
