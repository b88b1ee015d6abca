// The rest: of faces that changed all over, changes that the page does not begin with. They are read with their
// row, or all at once; filters and decisions speak of what is read.

// unread counts the changes of some causes that are not read.
function unread(list) { return list.reduce((n, g) => n + (g.rest ? g.rest.n : 0), 0); }

// readRest reads what some causes have besides.
async function readRest(list) {
  const asked = head, fresh = [];
  for (const g of list) {
    if (!g.rest) continue;
    let rows = [];
    try {
      for (const n of g.rest.files) rows = rows.concat(await file("rest", n));
    } catch (e) {
      say(e.message + ". Keep the bundle's data folder beside its page.");
      return false;
    }
    if (head !== asked) return false; // drawn anew meanwhile
    if (!g.rest) continue;
    for (const n of g.rest.files) waiting.delete("rest-" + n);
    const more = rows.map(changeOf).sort(worstFirst);
    g.members = g.members.concat(more);
    g.rest = undefined;
    fresh.push(more);
  }
  if (!fresh.length) return false;
  changes = changes.concat(...fresh).sort(worstFirst);
  index();
  buildFilters();
  apply();
  return true;
}

function worstFirst(a, b) { return gravity(a) - gravity(b) || b.score - a.score; }
function gravity(c) { return [...severities, "new"].indexOf(c.severity); }

// restButton reads what some causes have besides.
function restButton(list) {
  const b = el("button", `Read the other ${unread(list).toLocaleString("en")}`);
  b.type = "button";
  b.addEventListener("click", () => readRest(list));
  return b;
}

// paintRest says at the head of the page what is not read.
function paintRest() {
  byId("rest").replaceChildren(...(unread(causes) ? [el("span", `${unread(causes).toLocaleString("en")} of these are not read yet: each row begins with its worst. `), restButton(causes)] : []));
}
