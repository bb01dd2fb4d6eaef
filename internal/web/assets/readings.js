// The page that goes along to the machine: one reading at a time, typed with the thumb. Whatever is typed is kept in this browser
// until the program has written it down, so neither a locked screen, a reload nor a lost server loses or doubles a reading.
import { ask, build, Gone } from "./ask.js";
import { Notebook } from "./notebook.js";

const page = document.body;
const job = page.dataset.job;
const home = page.dataset.base + "/job/" + encodeURIComponent(job); // on a phone everything stands behind a secret
const address = home + "/readings";
const note = new Notebook(job);
const byId = (id) => document.getElementById(id);
const all = (selector, within = document) => [...within.querySelectorAll(selector)];

let state = JSON.parse(page.dataset.state); // what the program has written down and judged
let gone = false; // the program isn't answering
let again = ""; // the reading that is being measured once more
let came = ""; // the card from which the list of all was opened

const cards = () => all("[data-card]");
const readings = () => all('#measure [data-kind="reading"]').map((c) => c.dataset.card);
const tests = () => all('#test [data-kind="test"]').map((c) => c.dataset.card);
const cardOf = (id) => cards().find((c) => c.dataset.card === id);
const here = () => cardOf(note.at(note.view));
const waiting = (id) => note.queue.findLast((q) => q.reading === id);
const isTaken = (id) => Boolean(state.taken[id] || waiting(id));
// A resistance is read in a reading and in some tests; the other tests are passed or not.
const isNumeric = (id) => cardOf(id).dataset.kind === "reading" || "numeric" in cardOf(id).dataset;
const onSheet = () => readings().filter((id) => !cardOf(id).dataset.extra);

// ---- what is typed -----------------------------------------------------------------------------------------------------

const units = { k: "kohm", M: "Mohm", ohm: "ohm" };
const signs = { k: "kΩ", M: "MΩ", ohm: "Ω" };
const words = new Set(["open", "beep", "passed", "failed"]);

// press returns what is typed after the key: { digits, unit } or { word }.
function press(typed, key) {
  if (words.has(key)) return { word: key };
  let { digits = "", unit = "" } = typed;
  if (key === "delete") return typed.word ? {} : unit ? { digits } : { digits: digits.slice(0, -1) };
  if (key in units) return { digits, unit: unit === key ? "" : key };
  if (key === "." && digits.includes(".")) return typed;
  if (key === "." && digits === "") digits = "0";
  if (digits.length < 8) digits = digits === "0" && key !== "." ? key : digits + key;
  return { digits, unit };
}

const valueOf = ({ digits, unit, word }) => word ?? (digits ? `${digits.replace(/\.$/, "")} ${units[unit] ?? "ohm"}` : "");

function showTyped() {
  const typed = note.typed(here().dataset.card);
  const shown = byId("shown");
  shown.replaceChildren();
  if (typed.word) shown.append(typed.word);
  else if (typed.digits || typed.unit) {
    shown.append(typed.digits || " ", " ", build("span", { class: typed.unit ? "unit" : "unit unsaid" }, signs[typed.unit] ?? "Ω"));
  } else shown.append(build("span", { class: "nothing" }, "what the meter shows"));
  for (const key of all("#pad .unit")) key.setAttribute("aria-pressed", String(key.dataset.key === typed.unit));
}

// ---- showing one card --------------------------------------------------------------------------------------------------

function show() {
  const { view } = note;
  for (const main of all(".view")) main.hidden = main.id !== view;
  for (const button of all("[data-view]")) button.setAttribute("aria-pressed", String(button.dataset.view === view));
  const now = view === "work" ? null : here();
  for (const card of cards()) card.hidden = card !== now;
  const kind = now?.dataset.kind;
  page.dataset.kind = kind ?? now?.dataset.card ?? view;
  byId("hand").hidden = !kind;
  byId("refusal").textContent = "";
  if (now?.dataset.card === "end") showAll();
  if (kind) showHand(now.dataset.card, kind);
  showTop();
}

function showHand(id, kind) {
  const taken = isTaken(id) && again !== id;
  const panel = byId("verdict");
  const numeric = isNumeric(id);
  byId("pad").hidden = taken || !numeric;
  byId("rulings").hidden = taken || numeric;
  document.querySelector(".shown-row").hidden = taken || !numeric;
  panel.hidden = !taken;
  panel.replaceChildren(...(taken ? verdict(id, kind) : []));
  byId("walk").hidden = taken;
  const order = kind === "test" ? tests() : onSheet();
  const progress = byId("progress");
  progress.max = order.length;
  progress.value = order.filter(isTaken).length;
  byId("list").textContent = `${progress.value} of ${order.length} taken`;
  byId("list").hidden = kind === "test";
  const expected = byId("expected");
  expected.hidden = kind === "test";
  expected.replaceChildren("What is", build("br"), "expected?");
  expected.setAttribute("aria-expanded", "false");
  if (!taken) showTyped();
}

const button = (label, doing, main) => build("button", { type: "button", "data-do": doing, ...(main ? { class: "main" } : {}) }, label);

// verdict is what stands in the keys' place once the reading is taken.
function verdict(id, kind) {
  const held = waiting(id);
  const taken = state.taken[id];
  const expect = cardOf(id).dataset.expect;
  const out = [];
  const foot = [];
  let onward = "Next";
  if (held) {
    out.push(build("p", { class: "ruling kept" }, build("strong", {}, shownValue(held.value).replace("failed", "not passed")), gone ? " kept on this telephone" : " on its way"));
    if (gone) out.push(build("p", {}, "The program isn't answering. Go on measuring: this is judged when it is back."));
  } else if (taken.verdict === "right") {
    out.push(build("p", { class: "ruling right" }, tick(), build("strong", {}, isNumeric(id) ? "right: " + taken.shown : taken.shown)));
    out.push(build("p", { class: "soft" }, "expected " + (taken.expect || expect)));
    if (cardOf(id).dataset.proves) out.push(build("p", {}, cardOf(id).dataset.proves));
  } else {
    out.push(build("p", { class: "ruling wrong" }, cross(), build("strong", {}, isNumeric(id) ? "wrong: " + taken.shown : taken.shown)));
    out.push(build("p", { class: "soft" }, "expected " + (taken.expect || expect)));
    if (kind === "test") out.push(build("p", {}, "No power before the reason is found and the test is passed."));
    else out.push(...suspects());
    const next = kind === "reading" && state.next;
    if (next && next.id !== id && !isTaken(next.id)) {
      foot.push(build("p", { class: "row" }, button("Measure what tells them apart", "best", true)));
      onward = "In order";
    }
  }
  foot.push(build("p", { class: "row" }, button("Back", "back"), button("Again", "again"), button(onward, "next", onward === "Next")));
  return [...out, build("div", { class: "foot-rows" }, ...foot)];
}

function suspects() {
  if (!state.suspects.length) return [];
  return [build("p", { class: "may-be" }, "It may be, likeliest first:"), build("ol", { class: "suspects" }, ...state.suspects.slice(0, 3).map((s) =>
    build("li", {}, build("span", { class: "odds" }, s.odds), build("strong", {}, s.name), build("span", { class: "remedy" }, s.remedy))))];
}

function drawn(path) {
  const holder = document.createElement("template");
  holder.innerHTML = `<svg class="sign" viewBox="0 0 16 16" aria-hidden="true"><path d="${path}"/></svg>`;
  return holder.content.firstElementChild;
}
const tick = () => drawn("M2 8.5 6.2 13 14 3.5");
const cross = () => drawn("M3 3 13 13M13 3 3 13");

const shownValue = (value) => value.replace("kohm", "kΩ").replace("Mohm", "MΩ").replace("ohm", "Ω");

// showAll lists every reading with how it stands.
function showAll() {
  const list = byId("all");
  list.replaceChildren(...readings().map((id) => {
    const taken = waiting(id) ? { verdict: "kept", shown: shownValue(waiting(id).value) } : state.taken[id];
    const card = cardOf(id);
    const stand = taken ? (taken.verdict === "kept" ? "kept" : taken.verdict) : note.skipped.includes(id) ? "skipped" : "to do";
    const line = build("button", { type: "button", "data-go": id, class: "line " + stand.replace(" ", "-") });
    line.append(build("span", { class: "number" }, card.querySelector(".count b")?.textContent ?? "+"), build("span", { class: "ends" }, card.dataset.ends),
      build("span", { class: "what" }, taken?.shown ?? ""), build("span", { class: "stand" }, stand));
    return build("li", {}, line);
  }));
  const ids = onSheet();
  const left = ids.filter((id) => !isTaken(id)).length;
  const wrong = readings().filter((id) => state.taken[id]?.verdict === "wrong" && !waiting(id)).length;
  const many = (n, one, more) => `${n} ${n === 1 ? one : more}`;
  byId("end-text").textContent = (left ? `${many(left, "reading is", "readings are")} left. ` : `All ${ids.length} are taken. `) +
    (wrong ? `${many(wrong, "is", "are")} wrong: no power before the reason is found and it is measured again.` : left ? "" : "All are as expected. What no reading can catch stands on the sheet.");
  list.parentElement.querySelector(".suspects")?.remove();
  list.parentElement.querySelector(".may-be")?.remove();
  if (wrong) byId("end-text").after(...suspects());
  document.querySelector('#end [data-do="left"]').hidden = left === 0;
}

function showTop() {
  const n = note.queue.length;
  byId("state").textContent = gone ? (n ? `not connected, ${n} kept here, will be sent` : "not connected") : n ? `sending ${n}` : "";
  page.dataset.now = gone ? "gone" : "here";
}

// ---- moving ------------------------------------------------------------------------------------------------------------

function go(id) {
  again = "";
  note.go(note.view, id);
  show();
  here()?.closest(".view").scrollTo(0, 0);
}

// step goes a card on (+1) or back (-1) in the order of the sheet.
function step(by) {
  const order = note.view === "test" ? tests() : ["begin", ...onSheet(), "end"];
  const at = order.indexOf(here().dataset.card);
  if (at < 0) return go(by > 0 ? firstLeft() : came || order[1]); // a reading beside the order
  const to = order[at + by];
  if (to) go(to);
  else if (by > 0) go(order.find((id) => !isTaken(id)) ?? order[0]);
}

const firstLeft = () => onSheet().find((id) => !isTaken(id)) ?? "end";

const deeds = {
  begin() {
    note.who(byId("by").value.trim(), byId("meter").value.trim());
    go(firstLeft());
  },
  back: () => step(-1),
  next: () => step(+1),
  skip() {
    note.skip(here().dataset.card);
    step(+1);
  },
  list() {
    came = here().dataset.card;
    go("end");
  },
  left: () => go(firstLeft()),
  again() {
    again = here().dataset.card;
    show();
  },
  best() {
    came = here().dataset.card;
    go(state.next.id);
  },
  // The expected value is looked at on purpose only: whoever knows it reads it off any meter.
  expected(control) {
    const open = control.getAttribute("aria-expanded") !== "true";
    control.setAttribute("aria-expanded", String(open));
    if (open) control.replaceChildren(build("b", {}, here().dataset.expect));
    else control.replaceChildren("What is", build("br"), "expected?");
  },
};

function done() {
  const id = here().dataset.card;
  const value = valueOf(note.typed(id));
  if (!value) {
    byId("refusal").textContent = "Type what the meter shows, or press open or beep.";
    return;
  }
  take(id, value);
}

function take(id, value) {
  note.take(id, value);
  again = "";
  show();
  byId("verdict").focus({ preventScroll: true });
  send();
}

function typeKey(key) {
  byId("refusal").textContent = "";
  if (key === "done") return done();
  if (!isNumeric(here().dataset.card)) return take(here().dataset.card, key);
  const id = here().dataset.card;
  note.type(id, press(note.typed(id), key));
  showTyped();
}

page.addEventListener("click", ({ target }) => {
  const control = target.closest("button");
  if (!control) return;
  if (control.dataset.key) typeKey(control.dataset.key);
  else if (control.dataset.do) deeds[control.dataset.do](control);
  else if (control.dataset.go) go(control.dataset.go);
  else if (control.dataset.view) {
    again = "";
    note.turn(control.dataset.view);
    settle();
    show();
  }
});

page.addEventListener("keydown", (event) => {
  const { key, target } = event;
  if (event.ctrlKey || event.metaKey || event.altKey || target.matches("input") || byId("hand").hidden) return;
  const keys = { ",": ".", ".": ".", Backspace: "delete", k: "k", K: "k", M: "M", m: "M", o: "open", b: "beep" };
  if (key === "Enter" && target.nodeName !== "BUTTON" && byId("rulings").hidden) byId("pad").hidden ? deeds.next() : done();
  else if (!byId("pad").hidden && (/^[0-9]$/.test(key) || keys[key])) typeKey(keys[key] ?? key);
  else return;
  event.preventDefault();
});

page.addEventListener("change", ({ target }) => {
  if (target.dataset.before) note.before(target.dataset.before, target.checked);
  if (target.dataset.tick) note.tick(target.dataset.tick, target.checked);
  if (target.id === "by" || target.id === "meter") note.who(byId("by").value.trim(), byId("meter").value.trim());
});

// ---- the program: sending, hearing, losing and finding it ----------------------------------------------------------------

let sending = false;

// send brings what is kept here to the program. What it has written down is let go of; the rest stays and is sent again.
async function send() {
  if (sending || note.queue.length === 0) return hear();
  sending = true;
  const sent = note.queue.slice();
  try {
    const { status, body } = await ask("POST", address, { taken: sent });
    if (status !== 200) {
      if (status === 429) setTimeout(send, 2000); // too much at once
      banner(status === 404 ? "The job file is gone from its folder. What is typed is kept on this telephone." : body.message);
      return;
    }
    found();
    if (!body.proving) {
      note.sent(sent.map((q) => q.key));
      const refused = Object.entries(body.refused ?? {}).map(([key, why]) => [sent.find((q) => q.key === key), why]);
      apply(body);
      for (const [line, why] of refused) refuse(line, why);
    }
  } catch (error) {
    if (!(error instanceof Gone)) throw error;
    lost();
  } finally {
    sending = false;
  }
  if (note.queue.some((q) => !sent.includes(q)) && !gone) send();
}

// refuse gives a reading back that nobody could make sense of.
function refuse(line, why) {
  if (here()?.dataset.card === line.reading) {
    again = isTaken(line.reading) ? line.reading : "";
    show();
    byId("refusal").textContent = why;
  } else banner(`${line.reading}: ${why}`);
}

// hear asks what has been written down.
async function hear() {
  try {
    const { status, body } = await ask("GET", address + "/now");
    if (status === 200) {
      found();
      apply(body);
    } else if (status === 403) banner(body.message);
  } catch (error) {
    if (!(error instanceof Gone)) throw error;
    lost();
  }
}

function apply(fresh) {
  if (fresh.mark !== page.dataset.mark || ("proving" in page.dataset && !fresh.proving)) return location.reload(); // other cards
  if (fresh.proving) return; // not judged yet: what is shown stands
  state = fresh;
  if (state.next?.card) {
    note.extra(state.mark, state.next.id, state.next.card);
    addCard(state.next.id, state.next.card);
  }
  const typing = byId("hand").hidden || byId("pad").hidden;
  if (typing) show();
  else showTop();
}

// addCard adds the card of a reading beside the order.
function addCard(id, html) {
  if (cardOf(id) || !byId("end")) return;
  const holder = document.createElement("template");
  holder.innerHTML = html; // from our own server, which has escaped every text in it
  const card = holder.content.firstElementChild;
  card.dataset.extra = "yes";
  byId("end").before(card);
}

let stream, alive, retry;

function connect() {
  clearTimeout(retry);
  stream?.close();
  stream = new EventSource(home + "/events");
  const heard = () => {
    clearTimeout(alive);
    alive = setTimeout(lost, 25_000);
  };
  stream.onopen = () => {
    heard();
    send();
  };
  stream.addEventListener("beat", heard);
  stream.addEventListener("beside", ({ data }) => {
    heard();
    if (data !== state.beside) send();
  });
  stream.addEventListener("missing", () => banner("The job file is gone from its folder. What is typed is kept on this telephone."));
  stream.onmessage = () => {
    heard();
    send();
  };
  stream.onerror = () => {
    const refused = stream.readyState === EventSource.CLOSED; // there is an answer, but no stream
    lost();
    if (refused) hear();
  };
}

function lost() {
  stream?.close();
  clearTimeout(alive);
  clearTimeout(retry);
  retry = setTimeout(connect, 1500);
  if (gone) return;
  gone = true;
  show();
}

function found() {
  banner("");
  if (!gone) return;
  gone = false;
  showTop();
}

function banner(text) {
  byId("banner").textContent = text;
}

// A telephone puts a page to sleep with its screen: it looks again when it wakes.
document.addEventListener("visibilitychange", () => {
  if (!document.hidden && (gone || stream.readyState === EventSource.CLOSED)) connect();
});
addEventListener("online", connect);

// ---- start -------------------------------------------------------------------------------------------------------------

// settle puts the place where one was onto a card that is there.
function settle() {
  if (note.view === "measure" && !here()) note.go("measure", note.begun ? firstLeft() : "begin");
  if (note.view === "test" && !here()) note.go("test", tests().find((id) => !isTaken(id)) ?? tests()[0] ?? "");
}

if (byId("by")) {
  byId("by").value = note.by;
  byId("meter").value = note.meter;
}
for (const box of all("[data-before]")) box.checked = note.isBefore(box.dataset.before);
for (const box of all("[data-tick]")) box.checked = note.ticked(box.dataset.tick);
for (const folded of all("details.asks")) folded.open = true;
for (const [id, card] of Object.entries(note.extras(page.dataset.mark))) addCard(id, card);
apply(state);
settle();
show();
connect();
page.dataset.ready = "yes";
