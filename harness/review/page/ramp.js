// The ramp: one glyph at every size of its device, on one baseline. A stem that
// steps at the wrong size shows here.

function ramp(c, d) {
  const steps = changes.filter(x => x.plates === c.plates && x.family === c.family).map(x => ({ size: x.size, change: x }));
  for (const s of d.sizes) if (!steps.some(x => x.size === s.size)) steps.push({ size: s.size, unread: s });
  for (const s of d.standing) steps.push({ size: s.size, picture: s.picture });
  if (steps.length < 2) return null;
  steps.sort((a, b) => a.size - b.size);
  const row = el("div", undefined, "ramp");
  row.setAttribute("role", "group");
  row.setAttribute("aria-label", "the glyph at all sizes of " + c.device);
  for (const s of steps) row.append(s.change ? changedStep(c, s) : s.unread ? unreadStep(c, s) : standingStep(c, s));
  return section(d.sizes.length ? "The sizes on this device at which it changed" : "All sizes on this device", row);
}

function rampScale(dpi) { return Number(dpi.split("x")[0]) >= 500 ? 1 : 2; }

function changedStep(c, s) {
  const x = s.change, b = el("button"), v = verdictOf(x);
  b.type = "button";
  if (x === c) b.setAttribute("aria-current", "true");
  b.setAttribute("aria-label", `${x.size} points, ${x.kind}, ${x.severity}${v ? ", " + words[v.verdict] : ""}`);
  const foot = el("span", x.size);
  foot.append(el("i", undefined, "sev " + x.severity));
  b.append(foot);
  detail(x).then(d => {
    const bx = box(d.golden, d.candidate, 0), { canvas, each } = canvasFor({ ...bx, bottom: Math.min(0, bx.bottom) }, rampScale(x.dpi), x.dpi);
    each(drawChange(d));
    b.prepend(canvas);
  }, () => {});
  b.addEventListener("click", () => goTo(x));
  return b;
}

function standingStep(c, s) {
  const f = el("span", undefined, "step"), bx = box(s.picture, null, 0);
  const { canvas, each } = canvasFor({ ...bx, bottom: Math.min(0, bx.bottom) }, rampScale(c.dpi), c.dpi, s.size + " points, " + (head.looked ? "no fault found" : head.decidable ? "as approved" : "the same in both fonts"));
  each(drawInk(s.picture));
  f.append(canvas, el("span", s.size));
  return f;
}

// unreadStep is a change whose row is not read.
function unreadStep(c, s) {
  const f = el("span", undefined, "step"), bx = box(s.unread.golden, s.unread.candidate, 0);
  const { canvas, each } = canvasFor({ ...bx, bottom: Math.min(0, bx.bottom) }, rampScale(c.dpi), c.dpi, s.size + " points, changed, its row not read");
  each(drawChange(s.unread));
  f.append(canvas, el("span", s.size));
  return f;
}
