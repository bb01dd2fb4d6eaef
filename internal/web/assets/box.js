// The page of the box: in space, or one face flat with parts to be moved. The server says what is wrong with a place; what is settled is
// written into the job file, and the rest is arranged around it.
import { ask, build, Gone } from "./ask.js";
import { Flat } from "./box_flat.js";
import { Space } from "./box_space.js";

const page = document.body;
const byId = (id) => document.getElementById(id);
const address = "/job/" + encodeURIComponent(page.dataset.job);
const units = page.dataset.units;

let found = JSON.parse(page.dataset.state); // as the server arranged it
let shown = found; // with what a hand has moved
let view = "space";
let chosen = "";
let busy = ""; // what is being waited for, in words
const moves = new Map(); // by tag: { tag, x, y, turned }

const space = Space.make(byId("space"), byId("tags"), pick);
const flat = new Flat(byId("flat"), { pick, move });
const partOf = (tag) => shown.parts?.find((p) => p.tag === tag);

// ---- what is seen ----------------------------------------------------------------------------------------------------

function show() {
  const there = Boolean(shown.parts);
  const inSpace = view === "space";
  byId("space").hidden = byId("tags").hidden = !(inSpace && space && there);
  byId("drawings").hidden = !(inSpace && !space && there);
  byId("space-tools").hidden = !(inSpace && space && there);
  byId("flat").hidden = inSpace || !there;
  byId("flat-help").hidden = inSpace || !there;
  if (there && inSpace) space?.show(shown, chosen);
  if (there && !inSpace) flat.show(shown, view, chosen);
  for (const b of document.querySelectorAll("[data-view]")) b.setAttribute("aria-pressed", String(b.dataset.view === view));
  page.classList.toggle("on-face", !inSpace);
  page.classList.toggle("waiting", Boolean(busy) || found.none || (found.work.arranging && !found.work.found));
  byId("lead").textContent = shown.trial ? "Around what you moved: " + shown.lead : shown.lead;
  showWork();
  showChoice();
  showPart();
}

function showWork() {
  const work = byId("work");
  const text = busy || found.work.said;
  if (work.dataset.text === text) return;
  work.dataset.text = text;
  work.replaceChildren();
  if (!text) return;
  const line = build("p", {}, text);
  if (busy || found.work.arranging) line.append(build("button", { type: "button", "data-do": "stop" }, "Stop here"));
  else if (found.work.stopped) line.append(build("button", { type: "button", "data-do": "on" }, "Search on"));
  work.append(line);
}

function showChoice() {
  const choice = byId("pick");
  const tags = (shown.parts ?? []).map((p) => p.tag);
  if (choice.dataset.tags !== tags.join()) {
    choice.dataset.tags = tags.join();
    choice.replaceChildren(build("option", { value: "" }, "none chosen"), ...(shown.parts ?? []).map((p) => build("option", { value: p.tag }, `${p.tag}, ${p.name}`)));
  }
  choice.value = chosen;
}

function showPart() {
  const p = partOf(chosen);
  const part = byId("part");
  if (p) {
    const line = (name, text) => [build("dt", {}, name), build("dd", {}, text)];
    const settled = moves.has(p.tag) ? "moved by hand, not written yet" : p.settled ? "settled in the job file" : "found by the search";
    part.replaceChildren(
      p.clashes ? build("ul", { class: "clashes" }, ...p.clashes.map((c) => build("li", {}, c))) : build("p", { class: "clear" }, "It strikes nothing and has its air."),
      build("dl", {}, ...line("stands", p.place), ...line("", settled), ...line("size", p.figures), ...line("free air", p.wants)));
  } else part.replaceChildren();
  const flatNow = view !== "space" && p?.movable;
  const can = {
    settle: moves.size > 0, around: moves.size > 0 && !shown.trial, back: moves.size > 0,
    turn: flatNow && p.mayTurn, free: Boolean(p?.settled) && !moves.has(chosen),
  };
  for (const [deed, may] of Object.entries(can)) document.querySelector(`[data-do="${deed}"]`).hidden = !may;
  const many = moves.size > 1 || (moves.size === 1 && !moves.has(chosen));
  document.querySelector('[data-do="settle"]').textContent = many ? `Settle ${[...moves.keys()].join(", ")} here` : "Settle it here";
  for (const deed of ["undo", "redo"]) {
    const button = document.querySelector(`[data-do="${deed}"]`);
    button.disabled = !found[deed];
    button.title = found[deed];
  }
  document.querySelector('[data-do="settle-all"]').disabled = !shown.parts || found.work.arranging;
}

function pick(tag) {
  if (tag === chosen) return;
  chosen = tag;
  const p = partOf(tag);
  // A part of the other face is shown on its own.
  if (p && view !== "space" && p.face !== view && p.movable) view = p.face;
  show();
}

// ---- moving a part -----------------------------------------------------------------------------------------------------

let asking = false, askAgain = false;

// move is a part held at a place: it is shown there at once, and what is wrong with it as soon as the server has said so.
function move(tag, x, y, turned = partOf(tag).turned) {
  const base = view === "plate" ? shown.plate.at : [0, 0];
  const p = partOf(tag);
  const size = p.turned === turned ? p.size : [p.size[1], p.size[0], p.size[2]];
  [x, y] = [x, y].map((v, n) => Math.max(-base[n], Math.min(shown.size[n] - size[n] - base[n], v))); // in sight, whatever it strikes
  moves.set(tag, { tag, x, y, turned });
  shown = { ...shown, trial: false, parts: shown.parts.map((p) => (p.tag === tag ? { ...p, at: [x + base[0], y + base[1], p.at[2]], size, turned } : p)) };
  show();
  tryPlaces();
}

// tryPlaces asks about the places as they are; while an answer is under way only the latest waits.
async function tryPlaces() {
  if (asking) {
    askAgain = true;
    return;
  }
  asking = true;
  do {
    askAgain = false;
    if (!moves.size) break;
    const began = performance.now();
    const answer = await asked("POST", "box/try", { mark: shown.mark, units, places: [...moves.values()] });
    page.dataset.frame = (performance.now() - began).toFixed(1);
    if (!answer || askAgain || !moves.size) continue;
    if (answer.status !== 200) {
      byId("refusal").textContent = answer.body.message;
      break;
    }
    shown = { ...shown, parts: answer.body.parts };
    show();
  } while (askAgain);
  asking = false;
}

// asked is ask with a lost server told.
async function asked(method, verb, body) {
  try {
    const answer = await ask(method, `${address}/${verb}`, body);
    banner("");
    return answer;
  } catch (error) {
    if (!(error instanceof Gone)) throw error;
    banner("The program isn't answering. What you moved stays here until it does.");
    return null;
  }
}

function banner(text) {
  byId("banner").replaceChildren(...(text ? [text] : []));
}

// take takes over what the server says of the box. While there is no arrangement, or where there is none, the one before stays in sight: what was
// settled badly can be moved again, freed, or taken back.
function take(state) {
  const old = found;
  found = state;
  if (!state.parts && old.parts) found = { ...old, lead: state.lead, none: !state.work.arranging, token: state.token, beside: state.beside, undo: state.undo, redo: state.redo, work: state.work };
  shown = found;
  if (chosen && !partOf(chosen)) chosen = "";
  show();
  if (moves.size) tryPlaces();
}

async function refresh() {
  const answer = await asked("GET", `box/now?units=${units}`);
  if (answer?.status === 200) take(answer.body);
}

// write changes the job file.
async function write(verb, body) {
  byId("refusal").textContent = "";
  const answer = await asked("POST", verb, { token: found.token, units, ...body });
  if (!answer) return;
  if (answer.status !== 200) {
    if (answer.body.late) await refresh();
    byId("refusal").textContent = answer.body.message;
    return;
  }
  if (verb === "box/settle") { // the parts stay where the hand has put them until the rest is arranged around them
    found = { ...found, parts: shown.parts.map((p) => (moves.has(p.tag) ? { ...p, settled: true } : p)) };
    moves.clear();
  }
  take(answer.body);
}

// around shows what the search finds around what was moved, before anything is written.
async function around() {
  busy = "The rest is being arranged around what you moved.";
  show();
  const answer = await asked("POST", "box/around", { mark: shown.mark, units, places: [...moves.values()] });
  busy = "";
  if (answer?.status === 200 && answer.body.parts) shown = { ...answer.body };
  else if (answer) byId("refusal").textContent = answer.status === 200 ? "Around that no size that may be chosen holds everything. Put it elsewhere, or back." : answer.body.message;
  show();
}

const corner = (p) => (p.face === "plate" ? [p.at[0] - shown.plate.at[0], p.at[1] - shown.plate.at[1]] : [p.at[0], p.at[1]]);
const placeOf = (p) => ({ tag: p.tag, x: corner(p)[0], y: corner(p)[1], turned: p.turned });

const deeds = {
  settle: () => write("box/settle", { places: [...moves.values()] }),
  "settle-all": () => {
    const all = shown.parts.filter((p) => p.movable).map(placeOf);
    moves.clear();
    write("box/settle", { places: all });
  },
  around,
  back: () => {
    moves.clear();
    byId("refusal").textContent = "";
    refresh();
  },
  turn: () => {
    const p = partOf(chosen);
    const at = moves.get(chosen) ?? placeOf(p);
    move(chosen, at.x, at.y, !p.turned);
  },
  free: () => write("box/free", { item: chosen }),
  undo: () => write("box/undo", {}),
  redo: () => write("box/redo", {}),
  stop: () => asked("POST", "stop-arranging", {}),
  on: async () => {
    await asked("POST", "arrange-on", { token: found.token });
    refresh();
  },
};

page.addEventListener("click", ({ target }) => {
  const button = target.closest("button");
  if (button?.dataset.do) deeds[button.dataset.do]();
  if (button?.dataset.look) space?.look(button.dataset.look);
  if (button?.dataset.view) {
    view = button.dataset.view;
    show();
  }
});
byId("pick").addEventListener("change", ({ target }) => pick(target.value));
byId("air").addEventListener("change", ({ target }) => space?.set({ air: target.checked }));
byId("door").addEventListener("input", ({ target }) => {
  target.setAttribute("aria-valuetext", target.value === "0" ? "shut" : target.value === "100" ? "wide open" : `open by ${target.value} %`);
  space?.set({ open: target.value / 100 });
});
page.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && moves.size) deeds.back();
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
    event.preventDefault();
    deeds[event.shiftKey ? "redo" : "undo"]();
  }
});
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => space?.theme());

// ---- hearing of changes --------------------------------------------------------------------------------------------------

const stream = new EventSource(address + "/events");
const heard = (mark) => ({ data }) => {
  banner("");
  if (data !== found[mark] && !busy && !shown.trial) refresh();
};
stream.onmessage = heard("token");
stream.addEventListener("beside", heard("beside"));
stream.onerror = () => banner("The program isn't answering. What you moved stays here until it does.");

show();
Object.assign(page, { space }); // for who looks at it from outside
page.dataset.space = space ? "yes" : "no";
page.dataset.ready = "yes";
