// Pictures: from packed rows to ink on a canvas. Y grows up about the origin.

// unpack gives a picture with ink(x, y) from 0 to 1; null stays null.
function unpack(p) {
  if (!p) return null;
  const [left, bottom, width, height, depth, advance, rows] = p;
  const bytes = Uint8Array.from(atob(rows), ch => ch.charCodeAt(0));
  const stride = Math.ceil(width * depth / 8), max = (1 << depth) - 1, top = bottom + height;
  return {
    left, bottom, right: left + width, top, width, height, advance,
    ink(x, y) {
      const col = x - left, row = top - 1 - y;
      if (col < 0 || row < 0 || col >= width || row >= height) return 0;
      const bit = col * depth;
      return (bytes[row * stride + (bit >> 3)] >> (8 - depth - (bit & 7)) & max) / max;
    },
  };
}

const noInk = { left: 0, bottom: 0, right: 0, top: 0, width: 0, height: 0, advance: 0, ink: () => 0 };

// box holds both pictures and a margin.
function box(a, b, margin) {
  const s = [a, b].filter(p => p && p.width && p.height);
  if (!s.length) return { left: -margin, bottom: -margin, right: 1 + margin, top: 1 + margin };
  return {
    left: Math.min(...s.map(p => p.left)) - margin, bottom: Math.min(...s.map(p => p.bottom)) - margin,
    right: Math.max(...s.map(p => p.right)) + margin, top: Math.max(...s.map(p => p.top)) + margin,
  };
}

// aspect is the width of a device pixel over its height.
function aspect(dpi) {
  const [x, y] = dpi.split("x").map(Number);
  return y ? y / x : 1;
}

// canvasFor is a canvas of a box at so many CSS pixels a device row, sharp at any
// zoom; its context is scaled to whole device pixels, rows growing down.
function canvasFor(b, scale, dpi, label) {
  const cv = el("canvas"), sharp = Math.max(1, Math.ceil(devicePixelRatio || 1)), sx = scale * aspect(dpi);
  const w = b.right - b.left, h = b.top - b.bottom;
  cv.width = Math.max(1, Math.round(w * sx * sharp));
  cv.height = Math.max(1, Math.round(h * scale * sharp));
  cv.style.width = cv.width / sharp + "px";
  cv.style.height = cv.height / sharp + "px";
  if (label) { cv.setAttribute("role", "img"); cv.setAttribute("aria-label", label); }
  else cv.setAttribute("aria-hidden", "true");
  const ctx = cv.getContext("2d");
  ctx.scale(cv.width / w, cv.height / h);
  return { canvas: cv, ctx, each: draw => eachPixel(ctx, b, draw) };
}

function eachPixel(ctx, b, draw) {
  for (let y = b.bottom; y < b.top; y++)
    for (let x = b.left; x < b.right; x++) draw(ctx, x, y, x - b.left, b.top - 1 - y);
}

const paper = { ink: "20,18,15", lost: "#b83a06", gained: "#1a5aa6", outline: "#7a3f9e", place: "#0b7a53" };

function drawInk(p) {
  return (ctx, x, y, px, py) => {
    const v = p ? p.ink(x, y) : 0;
    if (v) { ctx.fillStyle = `rgba(${paper.ink},${v})`; ctx.fillRect(px, py, 1, 1); }
  };
}

// Lost ink is a ring, gained ink a block with a cross: told apart by shape as
// well as by colour. Ink that stays is grey.
function drawDifference(g, d) {
  let small; // too small for rings and crosses: whole pixels of their colour
  return (ctx, x, y, px, py) => {
    small ??= ctx.getTransform().d < 3.5 * Math.max(1, devicePixelRatio);
    const a = g ? g.ink(x, y) : 0, b = d ? d.ink(x, y) : 0;
    if (Math.min(a, b) > 0) { ctx.fillStyle = `rgba(${paper.ink},${.3 * Math.min(a, b)})`; ctx.fillRect(px, py, 1, 1); }
    if (a !== b) (small ? speck : a > b ? lostMark : gainedMark)(ctx, px, py, Math.abs(a - b), a > b);
  };
}

// drawChange draws what has no golden as it is: there is nothing to gain ink over.
function drawChange(d) { return d.golden ? drawDifference(d.golden, d.candidate) : drawInk(d.candidate); }

function speck(ctx, px, py, much, lost) {
  ctx.globalAlpha = .4 + .6 * much;
  ctx.fillStyle = lost ? paper.lost : paper.gained;
  ctx.fillRect(px, py, 1, 1);
  ctx.globalAlpha = 1;
}

function lostMark(ctx, px, py, much) {
  ctx.globalAlpha = .4 + .6 * much;
  ctx.strokeStyle = paper.lost;
  ctx.lineWidth = .2;
  ctx.beginPath();
  ctx.ellipse(px + .5, py + .5, .34, .34, 0, 0, 7);
  ctx.stroke();
  ctx.globalAlpha = 1;
}

function gainedMark(ctx, px, py, much) {
  ctx.globalAlpha = .4 + .6 * much;
  ctx.fillStyle = paper.gained;
  ctx.fillRect(px, py, 1, 1);
  ctx.strokeStyle = "#fff";
  ctx.lineWidth = .13;
  ctx.beginPath();
  ctx.moveTo(px + .22, py + .22); ctx.lineTo(px + .78, py + .78);
  ctx.moveTo(px + .78, py + .22); ctx.lineTo(px + .22, py + .78);
  ctx.stroke();
  ctx.globalAlpha = 1;
}

function drawGrid(ctx, b) {
  const w = b.right - b.left, h = b.top - b.bottom;
  ctx.strokeStyle = "rgba(60,90,120,.28)";
  ctx.lineWidth = .05;
  ctx.beginPath();
  for (let x = 0; x <= w; x++) { ctx.moveTo(x, 0); ctx.lineTo(x, h); }
  for (let y = 0; y <= h; y++) { ctx.moveTo(0, y); ctx.lineTo(w, y); }
  ctx.stroke();
  ctx.strokeStyle = "rgba(60,90,120,.75)"; // baseline and origin
  ctx.lineWidth = .09;
  ctx.beginPath();
  ctx.moveTo(0, b.top); ctx.lineTo(w, b.top);
  ctx.moveTo(-b.left, 0); ctx.lineTo(-b.left, h);
  ctx.stroke();
}

// drawOutline lays the fitted outline over a plate; its unit is 1/64 px, and Y is
// flipped here, once.
function drawOutline(ctx, b, path) {
  ctx.save();
  ctx.transform(1 / 64, 0, 0, -1 / 64, -b.left, b.top);
  ctx.strokeStyle = paper.outline;
  ctx.lineWidth = 8;
  ctx.stroke(new Path2D(path));
  ctx.restore();
}

// drawPlace frames where a finding is, dark on a light band: seen on ink and on paper.
function drawPlace(ctx, b, [x0, y0, x1, y1]) {
  if (x1 <= x0 || y1 <= y0) return;
  for (const [style, width] of [["#fff", .34], [paper.place, .18]]) {
    ctx.strokeStyle = style;
    ctx.lineWidth = width;
    ctx.strokeRect(x0 - b.left - .2, b.top - y1 - .2, x1 - x0 + .4, y1 - y0 + .4);
  }
}

function drawWeights(w) {
  const [left, bottom, width, height, packed] = w;
  const bytes = Uint8Array.from(atob(packed), ch => ch.charCodeAt(0));
  return (ctx, x, y, px, py) => {
    const col = x - left, row = bottom + height - 1 - y;
    if (col < 0 || row < 0 || col >= width || row >= height) return;
    ctx.fillStyle = `rgba(122,63,158,${bytes[row * width + col] / 255})`;
    ctx.fillRect(px, py, 1, 1);
  };
}
