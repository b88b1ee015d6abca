// Keys, and the start.

function paintAll() {
  paintDecided();
  paintLoupe();
}

// paintDecided shows how far decisions are, everywhere but under the loupe.
function paintDecided() {
  paintContact();
  paintCount();
}

function chooseScope(s) { scope = s; paintDecide(); }
function toggle(name) { show[name] = !show[name]; paintLoupe(); }
function write(id) { byId(id).focus(); byId(id).select(); }

const keys = {
  ArrowDown: () => go(at + 1), ArrowUp: () => go(at - 1), ArrowRight: () => step(1), ArrowLeft: () => step(-1),
  PageDown: () => go(at + 8), PageUp: () => go(at - 8), Home: () => go(0), End: () => go(shown.length - 1), n: () => { if (at < shown.length - 1) at++; nextOpen(); },
  1: () => chooseScope("one"), 2: () => chooseScope("row"), 3: () => chooseScope("shown"), r: nextFold,
  a: () => settle("approve"), x: () => settle("reject"), l: () => settle("later"), u: undo, s: save,
  w: () => write("why"), d: () => byId("until").focus(), g: () => toggle("grid"), o: () => toggle("outline"),
  m: () => { if (shown[at]) readRest(shown[at].of); }, f: () => byId("filters").elements[0].focus(), "?": () => byId("keys").showModal(),
};

const deciding = "n123axluswd"; // keys that do nothing where nothing is to be decided

addEventListener("keydown", e => {
  if (e.ctrlKey || e.metaKey || e.altKey || document.querySelector("dialog[open]")) return;
  const typing = e.target.matches("input:not([type=checkbox]):not([type=radio]), select");
  if (e.key === "Escape" || e.key === "Enter" && e.target.id === "why") { e.preventDefault(); byId("contact").focus(); return; }
  const scrolls = e.target.closest("#loupe") && !e.target.closest(".members") && /^(Arrow|Page|Home|End)/.test(e.key);
  const act = Object.hasOwn(keys, e.key) && !(!head.decidable && deciding.includes(e.key)) && keys[e.key];
  if (typing || scrolls || !act || !byId("letters").checked && e.key.length === 1 || e.target.matches("[type=radio]") && e.key.startsWith("Arrow")) return;
  e.preventDefault();
  act();
});
for (const f of [byId("decide"), byId("filters")]) f.addEventListener("submit", e => e.preventDefault());
for (const b of document.querySelectorAll("[data-verdict]")) b.addEventListener("click", () => settle(b.dataset.verdict));
byId("undo").addEventListener("click", undo);
byId("save").addEventListener("click", save);
byId("help").addEventListener("click", () => byId("keys").showModal());
byId("letters").checked = stored("smokeproof letters") !== "off";
byId("letters").addEventListener("change", e => store("smokeproof letters", e.target.checked ? "on" : "off"));
byId("contact").addEventListener("scroll", mountRows, { passive: true });
addEventListener("resize", () => { mountRows(); });
addEventListener("hashchange", follow);
addEventListener("pagehide", leave);
addEventListener("beforeunload", e => { if (unsaved && !served) e.preventDefault(); });

async function begin() {
  take(JSON.parse(byId("head").textContent));
  byId("save").hidden = served;
  await recall();
  comeBack();
  buildFilters();
  buildCalibration();
  apply();
  await follow();
  byId("contact").focus();
  if (served) listen();
}
begin();
