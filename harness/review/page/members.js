// The members of a row as small pictures: what one decision settles, at a glance.

const mostMembers = 240; // about the one under the loupe; a longer row is walked or filtered

function members(g) {
  const from = Math.max(0, Math.min(member - mostMembers / 2, g.members.length - mostMembers));
  const nav = el("nav", undefined, "members"), seen = new IntersectionObserver(paintSeen, { root: nav });
  nav.setAttribute("aria-label", "in this row");
  g.members.slice(from, from + mostMembers).forEach((x, n) => {
    const b = memberButton(g, x, from + n);
    nav.append(b);
    seen.observe(b);
  });
  const n = g.members.length, more = unread(g.of), part = n > mostMembers ? `, ${from + 1} to ${from + mostMembers} shown` : "";
  if (more) return section(`In this row: ${(n + more).toLocaleString("en")}, of which the worst ${n} are read`, nav, restButton(g.of));
  return section(`In this row: ${n.toLocaleString("en")}${part}`, nav);
}

function memberButton(g, x, i) {
  const b = el("button"), v = verdictOf(x);
  b.type = "button";
  b.change = x;
  if (v) b.className = "settled";
  b.tabIndex = i === member ? 0 : -1; // one stop for the Tab key: arrows walk from there
  if (i === member) b.setAttribute("aria-current", "true");
  b.setAttribute("aria-label", `${x.glyph}, ${x.face}, ${x.size} points, ${x.device}, ${x.kind}, ${x.severity}${v ? ", " + words[v.verdict] : ""}`);
  b.append(el("span", undefined, "thumb"), ...memberName(g, x).map(t => el("span", t, "name")));
  b.addEventListener("click", () => go(at, i));
  return b;
}

// memberName says only what the members do not share, in a line each.
function memberName(g, x) {
  const { glyphs, faces, devices, sizes } = shared(g), strike = [];
  if (sizes.length > 1 || glyphs.length === 1) strike.push(x.size);
  if (devices.length > 1) strike.push(x.device);
  return [glyphs.length > 1 && x.glyph, faces.length > 1 && ending(x.face, faces), strike.join(" ")].filter(Boolean);
}

// ending is what tells a face from the others: its name without the words that all begin with.
function ending(face, faces) {
  const wordsOf = f => f.split(/(?<=[-_ ])/), all = faces.map(wordsOf), own = wordsOf(face);
  let n = 0;
  while (all.every(w => n + 1 < w.length && w[n] === own[n])) n++;
  return own.slice(n).join("");
}

// showMember scrolls the strip, and nothing else, to the member under the loupe.
function showMember() {
  const nav = document.querySelector(".members"), b = nav && nav.querySelector("[aria-current]");
  if (b) nav.scrollTop = b.offsetTop - nav.offsetTop - (nav.clientHeight - b.offsetHeight) / 2;
}

function paintSeen(entries, observer) {
  for (const e of entries) {
    if (!e.isIntersecting) continue;
    observer.unobserve(e.target);
    paintThumb(e.target.firstElementChild, e.target.change, 40);
  }
}

// paintThumb draws a change's difference into a place of so many CSS pixels.
function paintThumb(into, c, room) {
  return detail(c).then(d => {
    if (into.firstElementChild) return;
    const b = box(d.golden, d.candidate, 0), { canvas, each } = canvasFor(b, plateScale(b, c.dpi, room, room, .2, 6), c.dpi);
    each(drawChange(d));
    into.append(canvas);
  }, () => {});
}
