// A served page: decisions are written at once, and the desk tells what changed.

async function post(what, body) {
  const r = await fetch(what, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
  const text = await r.text();
  if (!r.ok) throw new Error(text.trim() || r.statusText);
  return JSON.parse(text);
}

async function postDecisions(list, verdict, why, until) {
  try {
    const answer = await post("decide", {
      version: 1, by: byId("by").value.trim(),
      decisions: list.map(c => decision(c, { verdict, why, until, digest: c.digest, over: c.over })),
      saw: list.map(c => c.verdict + " " + c.until),
    });
    past.push([answer.undo, list[0].key]);
    await fresh();
    say(`${answer.done} ${words[verdict]}.` + (answer.left.length ? ` ${answer.left.length} left alone: ${answer.left[0]}` : ""));
    return answer.done > 0;
  } catch (e) {
    say("Not written: " + e.message);
    return false;
  }
}

async function postUndo() {
  if (!past.length) return;
  const [id, key] = past.pop();
  try {
    const answer = await post("undo", { id, by: byId("by").value.trim() });
    await fresh();
    if (byKey.has(key)) goTo(byKey.get(key));
    say(`Taken back: ${answer.done}.` + (answer.left.length ? ` ${answer.left.length} left alone: ${answer.left[0]}` : ""));
  } catch (e) {
    say("Not taken back: " + e.message);
  }
}

// fresh reads the head anew and keeps what is under the loupe.
async function fresh() {
  const r = await fetch("head.json");
  if (!r.ok) { say("The server answers " + r.status + "; start it again."); return; }
  const h = await r.json();
  if (h.version === head.version) return;
  take(h);
  buildFilters();
  apply();
}

function listen() {
  const e = new EventSource("events");
  e.addEventListener("results", m => { if (Number(m.data) !== head.version) fresh(); });
  e.addEventListener("fault", m => say(m.data));
  e.addEventListener("error", () => say("The server is gone, and nothing is written until it is back. If it was ended, start it again and open the address that it prints."));
  e.addEventListener("open", () => { if (byId("said").textContent.startsWith("The server is gone")) say(""); fresh(); });
}
