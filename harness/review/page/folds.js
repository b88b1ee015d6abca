// Folds: which changes share a row of the contact sheet, and so a decision.

const folds = { cause: "by cause", finding: "by finding", glyph: "by glyph", none: "one by one" };
const manyCauses = 60; // from so many on, the sheet begins with a row a finding

// foldRows puts changes that the filters pass into rows, worst first.
function foldRows(fold, list) {
  if (fold === "none") return list.map(c => rowOf([c]));
  if (fold === "glyph") return gathered(list, c => c.face + "\n" + c.glyph).map(members => rowOf(members));
  const kept = causes.map(g => ({ ...g, of: g, members: g.members.filter(c => c.passes) })).filter(g => g.members.length);
  if (fold === "cause") return kept.map(g => rowOf(g.members, g.text, [g.of]));
  return gathered(kept, g => g.kind).map(gs => rowOf(gs.flatMap(g => g.members), gs[0].text, gs.map(g => g.of)));
}

function gathered(list, by) {
  const groups = new Map();
  for (const x of list) groups.has(by(x)) ? groups.get(by(x)).push(x) : groups.set(by(x), [x]);
  return [...groups.values()];
}

// rowOf is a row of changes, worst first; one glyph's stand by device and size.
// Its lead is the worst, of which the row's sentence is. of are the causes that it is made of, which may not be read to their end.
function rowOf(members, text, of = []) {
  const worst = members[0];
  if (members.every(c => c.glyph === worst.glyph)) members = [...members].sort((a, b) => a.face < b.face ? -1 : a.face > b.face ? 1 : a.device < b.device ? -1 : a.device > b.device ? 1 : a.size - b.size);
  return { worst, members, of, text: text || worst.kind, lead: members.indexOf(worst) };
}

// shared tells what the members of a row have among them, those that are not read too; rows that nobody sees are not asked.
function shared(g) {
  if (g.shared) return g.shared;
  const rest = g.of.filter(x => x.rest).map(x => x.rest), all = (field, more) => [...new Set([...distinct(g.members, field), ...more])], glyphs = distinct(g.members, "glyph");
  return g.shared = {
    glyphs, glyphCount: rest.length ? rest.reduce((n, r) => n + r.glyphs, 0) : glyphs.length, faces: distinct(g.members, "face"),
    devices: all("device", rest.flatMap(r => r.devices.map(n => head.devices[n]))),
    sizes: all("size", rest.flatMap(r => r.sizes.map(n => head.sizes[n]))).sort((a, b) => a - b),
  };
}

function distinct(list, field) { return [...new Set(list.map(c => c[field]))]; }

// rowName is the worst glyph of a row, or two, and how many more there are.
function rowName(g) {
  const { glyphs, glyphCount } = shared(g);
  return glyphCount < 3 ? [glyphs.join(", "), ""] : [glyphs[0], (glyphCount - 1).toLocaleString("en")];
}

// rowPlace tells the faces, where there are several to tell apart, by what the others are not called; the
// sizes; the devices.
function rowPlace(g) {
  const { sizes: s, faces, devices } = shared(g);
  return {
    faces: head.faces.length > 1 ? faces.map(f => ending(f, head.faces)).join(", ") : "",
    sizes: (s.length > 4 ? s[0] + "\u2013" + s[s.length - 1] : s.join(", ")) + " pt", devices: devices.join(", "),
  };
}
