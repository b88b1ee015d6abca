// Folds: which changes share a row of the contact sheet, and so a decision.

const folds = { cause: "by cause", finding: "by finding", glyph: "by glyph", none: "one by one" };
const manyCauses = 60; // from so many on, the sheet begins with a row a finding

// foldRows puts changes that the filters pass into rows, worst first.
function foldRows(fold, list) {
  if (fold === "none") return list.map(c => rowOf([c]));
  if (fold === "glyph") return gathered(list, c => c.face + "\n" + c.glyph).map(members => rowOf(members));
  const kept = causes.map(g => ({ ...g, members: g.members.filter(c => c.passes) })).filter(g => g.members.length);
  if (fold === "cause") return kept.map(g => rowOf(g.members, g.text));
  return gathered(kept, g => g.kind).map(gs => rowOf(gs.flatMap(g => g.members), gs[0].text));
}

function gathered(list, by) {
  const groups = new Map();
  for (const x of list) groups.has(by(x)) ? groups.get(by(x)).push(x) : groups.set(by(x), [x]);
  return [...groups.values()];
}

// rowOf is a row of changes, worst first; one glyph's stand by device and size.
// Its lead is the worst, of which the row's sentence is.
function rowOf(members, text) {
  const worst = members[0];
  if (members.every(c => c.glyph === worst.glyph)) members = [...members].sort((a, b) => a.face < b.face ? -1 : a.face > b.face ? 1 : a.device < b.device ? -1 : a.device > b.device ? 1 : a.size - b.size);
  return { worst, members, text: text || worst.kind, lead: members.indexOf(worst) };
}

// shared tells what the members of a row have among them; rows that nobody sees are not asked.
function shared(g) {
  return g.shared ||= { glyphs: distinct(g.members, "glyph"), faces: distinct(g.members, "face"), devices: distinct(g.members, "device"), sizes: distinct(g.members, "size").sort((a, b) => a - b) };
}

function distinct(list, field) { return [...new Set(list.map(c => c[field]))]; }

// rowName is the worst glyph of a row, or two, and how many more there are.
function rowName(g) {
  const { glyphs } = shared(g);
  return glyphs.length < 3 ? [glyphs.join(", "), ""] : [glyphs[0], (glyphs.length - 1).toLocaleString("en")];
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
