// The plates of one change: golden, candidate, difference, weights.

const show = { grid: true, outline: true };
let pointed = null; // the finding whose place is framed

function plate(caption, b, scale, c, draw, over) {
  const f = el("figure"), cv = canvasFor(b, scale, c.dpi, caption);
  cv.each(draw);
  if (over) over(cv.ctx);
  f.append(el("figcaption", caption), cv.canvas);
  return f;
}

// plateScale fits a box into a room of CSS pixels; whole pixels from one on.
function plateScale(b, dpi, width, height, least, most) {
  const fit = Math.min(width / ((b.right - b.left) * aspect(dpi)), height / (b.top - b.bottom));
  return Math.max(least, Math.min(most, fit >= 1 ? Math.floor(fit) : fit));
}

function loupeWidth() {
  const s = getComputedStyle(byId("loupe"));
  return byId("loupe").clientWidth - parseFloat(s.paddingLeft) - parseFloat(s.paddingRight);
}

// plates lets four stand in a row, or two where the loupe is narrow.
function plates(c, d) {
  const w = loupeWidth(), abreast = w < 480 ? 2 : 4, room = Math.floor((w - (abreast - 1) * 20) / abreast) - 2;
  const b = box(d.golden, d.candidate, d.golden ? 1 : 2), scale = plateScale(b, c.dpi, room, Math.max(200, innerHeight * .42), .5, 24), div = el("div", undefined, "plates");
  const over = outlined => ctx => {
    if (show.grid && scale >= 4) drawGrid(ctx, b);
    if (outlined && show.outline && d.outline) drawOutline(ctx, b, d.outline);
    for (const f of pointed ? [pointed] : !d.golden ? d.findings : []) drawPlace(ctx, b, f.place);
  };
  if (d.golden) div.append(plate(byHand(c) ? "in the folder" : head.sides[0], b, scale, c, drawInk(d.golden), over(false)));
  if (d.candidate) div.append(plate(head.sides[1] + (d.outline && show.outline ? ", outline" : ""), b, scale, c, drawInk(d.candidate), over(true)));
  if (d.golden && d.candidate) div.append(plate(`${c.lost} lost, ${c.gained} gained`, b, scale, c, drawDifference(d.golden, d.candidate), over(false)));
  if (d.weights) div.append(plate("weights", b, scale, c, drawWeights(d.weights), ctx => { over(false)(ctx); markChanges(ctx, b, d); }));
  return div;
}

// point frames the place of a finding on the plates that stand; of none, the page's usual.
function point(f, c, d) {
  if (f === pointed || c !== current()) return;
  pointed = f;
  document.querySelector("#loupe .plates").replaceWith(plates(c, d));
}

// markChanges points out, over the weights, the pixels that changed.
function markChanges(ctx, b, d) {
  eachPixel(ctx, b, (_, x, y, px, py) => {
    const a = d.golden ? d.golden.ink(x, y) : 0, now = d.candidate ? d.candidate.ink(x, y) : 0;
    if (a === now) return;
    ctx.beginPath();
    ctx.arc(px + .5, py + .5, .16, 0, 7);
    ctx.fillStyle = "#fff";
    ctx.fill();
    ctx.lineWidth = .08;
    ctx.strokeStyle = `rgb(${paper.ink})`;
    ctx.stroke();
  });
}

// legend shows the marks of the plates beside their words.
function legend(d) {
  const p = el("p", undefined, "legend soft"), unit = { left: 0, bottom: 0, right: 1, top: 1 };
  for (const [mark, word] of !d.golden || !d.candidate ? [] : [[lostMark, "ink lost"], [gainedMark, "ink gained"]]) {
    const cv = canvasFor(unit, 14, "1", undefined);
    mark(cv.ctx, 0, 0, 1);
    const s = el("span");
    s.append(cv.canvas, " " + word);
    p.append(s);
  }
  if (d.weights) p.append(el("span", "on the weights, changed pixels are dotted"));
  for (const [name, key] of [["grid", "g"], ["outline", "o"]]) {
    const l = el("label"), box = el("input");
    box.type = "checkbox";
    box.name = name;
    box.checked = show[name];
    box.addEventListener("change", () => { show[name] = box.checked; paintLoupe(); });
    l.append(box, " " + name + " ", keyCap(key));
    p.append(l);
  }
  return p;
}
