// The live sheet: a value is changed in place, the server works everything out again, and what differs is repainted.
import { ask, build, chosenLight, Gone, light } from "./ask.js";
import { Drafts } from "./drafts.js";
import { closeInput, isDirty, openInput, repaint, showBoxWork } from "./repaint.js";

const page = document.body;
const job = page.dataset.job;
const address = "/job/" + encodeURIComponent(job);
const drafts = new Drafts(job);
const sheet = {
  token: page.dataset.token,
  units: page.dataset.units, // "" while the job's own are shown
  known: JSON.parse(page.dataset.known),
  beside: page.dataset.beside, // the mark of the proof and the readings that it shows
  gone: false,
};
const byId = (id) => document.getElementById(id);
// controlAt is the control of the value at the path: the one with the id where the value stands in several places.
function controlAt(path, id) {
  const named = id && byId(id);
  return named?.dataset.path === path ? named : document.querySelector(`#sheet [data-path="${CSS.escape(path)}"]`);
}
const lineOf = (control) => control.closest(".line");

// unfold opens whatever the element is folded away in, and a part's answers when it is the part.
function unfold(element) {
  const answers = element.querySelector(":scope > details.asks");
  if (answers) answers.open = true;
  for (let shut; (shut = element.closest("details:not([open])")); ) shut.open = true;
}

// ---- talking to the server -------------------------------------------------------------------------------------------

let waiting = Promise.resolve();

// inTurn runs the work after all that was asked before it, so that each change is made to what the one before it left.
function inTurn(work) {
  waiting = waiting.then(work).catch((error) => {
    if (error instanceof Gone) lost();
    else throw error;
  });
  return waiting;
}

const send = (method, verb, body) => ask(method, `${address}/${verb}`, { token: sheet.token, units: sheet.units, known: sheet.known, ...body });

function apply(painting) {
  const dirty = [...document.querySelectorAll("#sheet [data-path]")].filter(isDirty).map((c) => ({ control: c, was: c.dataset.was }));
  const parts = new Set(document.querySelectorAll("details.asks"));
  const held = repaint(painting);
  unfoldAnswers((part) => !parts.has(part)); // parts that are new, such as the proof's
  sheet.token = painting.token;
  sheet.beside = painting.beside;
  for (const part of painting.parts) if (!held.has(part.id)) sheet.known[part.id] = part.mark;
  for (const id of Object.keys(sheet.known)) if (!held.has(id) && !painting.parts.some((p) => p.id === id)) delete sheet.known[id];
  document.title = painting.title;
  for (const [verb, what] of [["undo", painting.undo], ["redo", painting.redo]]) {
    const button = document.querySelector(`.bar [data-do="${verb}"]`);
    button.disabled = !what;
    button.title = what;
  }
  for (const unit of document.querySelectorAll('[name="units"]')) unit.checked = unit.value === painting.units;
  for (const { control, was } of dirty) {
    if (control.isConnected && isDirty(control) && control.dataset.was !== was && !control.hasAttribute("aria-invalid")) {
      refuse(control, build("p", {}, `While you type, this was changed elsewhere to ${control.dataset.was || "nothing written"}. Yours is kept here.`));
    }
  }
  showTicks();
  watchSections();
  found();
}

let hush;
function say(text, offerUndo) {
  const said = byId("said");
  said.replaceChildren(text);
  if (offerUndo) said.append(" ", build("button", { type: "button", "data-do": "undo" }, "Undo"));
  said.dataset.now = "shown";
  clearTimeout(hush);
  hush = setTimeout(() => delete said.dataset.now, 7000);
}

function state(word) {
  byId("state").textContent = word;
  byId("state").dataset.now = word;
}

// ---- changing a value ------------------------------------------------------------------------------------------------

function refuse(control, ...content) {
  unfold(control);
  const refusal = lineOf(control).querySelector(":scope > .refusal");
  control.setAttribute("aria-invalid", "true");
  control.setAttribute("aria-describedby", refusal.id);
  refusal.replaceChildren(...content);
}

function settle(control) {
  control.removeAttribute("aria-invalid");
  control.removeAttribute("aria-describedby");
  lineOf(control)?.querySelector(":scope > .refusal").replaceChildren();
}

// take sends what stands in the control, if the file doesn't hold it already.
function take(control, over = false) {
  clearTimeout(control.later);
  const path = control.dataset.path;
  const text = control.value;
  if (!isDirty(control)) {
    drafts.drop(path);
    settle(control);
    return;
  }
  drafts.put(path, control.id, text, sheet.token, true);
  if (sheet.gone) {
    state("kept here, not sent yet");
    return;
  }
  sendDraft(path, over);
}

// sendDraft sends what is kept for the path; the answer shows itself at the field that has the path then.
function sendDraft(path, over) {
  state("working it out …");
  return inTurn(async () => {
    const draft = drafts.get(path);
    if (!draft?.ready) { // typed on meanwhile: it is sent when it is taken again
      state(draft ? "typing" : "saved");
      return;
    }
    const { status, body } = await send("PUT", "value", { path, text: draft.text, token: over ? sheet.token : draft.token, over });
    const control = controlAt(path, draft.id);
    if (status === 200) {
      if (drafts.get(path)?.text === draft.text) drafts.drop(path);
      else drafts.rebase(path, body.token);
      if (control) {
        if (control.value === draft.text) control.dataset.was = draft.text.trim();
        settle(control);
      }
      apply(body);
      state(drafts.get(path) ? "typing" : "saved");
      say(body.said, true);
      return;
    }
    drafts.put(path, draft.id, draft.text, draft.token, false);
    state("not saved");
    if (!control) return say(body.message);
    if (body.late) {
      await refresh();
      late(controlAt(path, draft.id), body);
    } else refuse(control, build("p", {}, body.message));
  });
}

// late shows a value that someone else changed meanwhile: both texts, all that was changed, and the choice.
function late(control, body) {
  const pick = (label, action) => {
    const button = build("button", { type: "button" }, label);
    button.addEventListener("click", action);
    return button;
  };
  const lines = (body.lines ?? []).map((l) => build("div", {}, build("dt", {}, `line ${l.line}`), build("dd", {}, build("del", {}, l.was), " ", build("ins", {}, l.is))));
  refuse(
    control,
    build("p", {}, "This value was changed elsewhere while you typed. Nothing is lost: choose which stands."),
    build("dl", { class: "both" },
      build("div", {}, build("dt", {}, "there now"), build("dd", {}, body.theirs || "nothing written")),
      build("div", {}, build("dt", {}, "you typed"), build("dd", {}, body.yours || "nothing"))),
    ...(lines.length ? [build("details", {}, build("summary", {}, "all that was changed"), build("dl", { class: "changes" }, ...lines))] : []),
    build("p", { class: "choice" },
      pick("Write mine", () => {
        drafts.drop(control.dataset.path);
        take(control, true);
      }),
      pick("Leave theirs", () => {
        putBack(control);
        control.focus();
      })),
  );
}

function putBack(control) {
  clearTimeout(control.later);
  control.value = control.dataset.was;
  drafts.drop(control.dataset.path);
  settle(control);
}

page.addEventListener("input", ({ target }) => {
  if (target.dataset.path === undefined || target.nodeName === "SELECT") return;
  if (isDirty(target)) drafts.put(target.dataset.path, target.id, target.value, sheet.token, false);
  else drafts.drop(target.dataset.path);
  state(isDirty(target) ? "typing" : "saved");
});

// A phone's keyboard doesn't always name its Enter key: what it is about to do in a long text tells. A new line is Shift and
// Enter on a keyboard that has them.
page.addEventListener("beforeinput", (event) => {
  const { target, inputType } = event;
  if (target.dataset.path === undefined || inputType !== "insertLineBreak" || target.newLine) return;
  event.preventDefault();
  if (isDirty(target)) take(target);
});

page.addEventListener("focusout", ({ target }) => {
  if (target.dataset?.path !== undefined && target.isConnected && !(target.hasAttribute("aria-invalid") && target.value === drafts.get(target.dataset.path)?.text)) take(target);
});

// A word chosen with the mouse is taken at once; arrow keys run through the words, so the last of them is waited for.
page.addEventListener("change", ({ target }) => {
  if (target.dataset.path !== undefined && target.nodeName === "SELECT") {
    clearTimeout(target.later);
    if (performance.now() - (target.keyed ?? -1000) < 300) target.later = setTimeout(() => take(target), 700);
    else take(target);
  }
  if (target.name === "units") showIn(target.value);
  if (target.name === "light") light(target.value);
  if (target.dataset.tick) keepTick(target);
});

// ---- touching a result, buttons --------------------------------------------------------------------------------------

function showIn(units) {
  sheet.units = units;
  const here = new URL(location);
  here.searchParams.set("units", units);
  history.replaceState(null, "", here);
  for (const link of document.querySelectorAll("[data-units-link]")) link.search = "?units=" + units;
  inTurn(refresh);
}

async function refresh() {
  const known = Object.entries(sheet.known).map(([id, mark]) => id + ":" + mark).join();
  const { status, body } = await ask("GET", `${address}/parts?units=${sheet.units}&known=${encodeURIComponent(known)}`);
  if (status === 200) apply(body);
  return body;
}

function act(verb, body, refusal) {
  if (sheet.gone) return say("The program isn't answering: only typed values are kept for later.");
  state("working it out …");
  inTurn(async () => {
    const answer = await send("POST", verb, body);
    if (answer.status === 200) {
      apply(answer.body);
      say(answer.body.said, verb !== "undo" && verb !== "redo");
      state("saved");
      return;
    }
    state("saved");
    if (answer.body.late) await refresh();
    if (refusal?.isConnected) refusal.textContent = answer.body.message;
    else say(answer.body.message);
  });
}

const deeds = {
  undo: () => act("undo", {}),
  redo: () => act("redo", {}),
  print: () => print(),
  keys: () => {
    const keys = byId("keys");
    keys.hidden = !keys.hidden;
    document.querySelector('.bar [data-do="keys"]').setAttribute("aria-expanded", String(!keys.hidden));
    if (!keys.hidden) keys.focus();
  },
  add: (button) => act("add", { item: button.dataset.item }),
  remove: (button) => act("remove", { item: button.dataset.item }),
  again: () => connect(),
  // The button's answer is the next painting: it comes when the search has ended.
  "stop-arranging": (button) => {
    button.disabled = true;
    inTurn(() => send("POST", "stop-arranging", {}));
  },
  "arrange-on": () => act("arrange-on", {}),
};

page.addEventListener("click", (event) => {
  const { target } = event;
  const button = target.closest("button[data-do]");
  if (button && deeds[button.dataset.do]) return deeds[button.dataset.do](button);
  const link = target.closest("a[href^='#']");
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) follow(event, link);
  for (const drop of document.querySelectorAll("details.drop[open]")) if (!drop.contains(target)) drop.open = false;
  const jump = document.querySelector("#contents details");
  if (narrow.matches && jump.open && (!jump.contains(target) || target.closest("a"))) jump.open = false;
});

// follow opens what a reason stands on in place; any other link within the page goes there and puts the focus on it.
function follow(event, link) {
  const reason = link.closest(".reason");
  if (reason && !link.classList.contains("go")) {
    const item = link.closest(".inputs > li") ? link : [...reason.querySelectorAll(":scope > .inputs > li > a")].find((a) => a.hash === link.hash);
    if (item) {
      if (item.getAttribute("aria-expanded") === "true") {
        closeInput(item);
        event.preventDefault();
      } else if (openInput(item)) {
        event.preventDefault();
        item.focus();
      }
      return;
    }
  }
  const target = byId(link.hash.slice(1));
  if (!target) return;
  const focus = target.matches(".line") ? target.querySelector("[data-path], summary") : target.matches(".finding") ? target.querySelector("a, summary") : null;
  unfold(target);
  if (focus) requestAnimationFrame(() => focus.focus({ preventScroll: true }));
}

page.addEventListener("submit", (event) => {
  event.preventDefault();
  const form = event.target;
  act(form.dataset.do, { rule: form.dataset.rule, reason: form.elements.reason?.value ?? "", by: form.elements.by?.value ?? "" }, form.querySelector(".refusal"));
});

page.addEventListener("keydown", (event) => {
  const { target, key } = event;
  const control = target.dataset?.path !== undefined ? target : null;
  if (control?.nodeName === "SELECT") control.keyed = performance.now();
  if (control) control.newLine = key === "Enter" && event.shiftKey;
  if (control && key === "Enter" && !event.shiftKey && !event.isComposing) {
    if (control.nodeName !== "SELECT" || isDirty(control)) {
      event.preventDefault();
      take(control);
    }
  } else if (control && key === "Escape" && (isDirty(control) || control.hasAttribute("aria-invalid"))) {
    event.preventDefault();
    putBack(control);
    state("saved");
  } else if (key === "Escape") closeSomething(target);
  else if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === "z" && !(control && isDirty(control)) && !target.closest("form")) {
    event.preventDefault();
    act(event.shiftKey ? "redo" : "undo", {});
  } else if (!event.ctrlKey && !event.metaKey && !event.altKey && !target.matches("input:not([type=checkbox], [type=radio]), textarea, select")) {
    if (key === "?") deeds.keys();
    if (key === "n" || key === "p") toFinding(key === "n" ? 1 : -1);
  }
});

function closeSomething(from) {
  const open = from.closest("details.drop[open]") ?? document.querySelector("details.drop[open]");
  if (open) {
    open.open = false;
    open.querySelector("summary").focus();
  } else if (!byId("keys").hidden) {
    deeds.keys();
    document.querySelector('.bar [data-do="keys"]').focus();
  } else {
    const nested = from.closest(".inputs > li > .reason");
    const link = nested?.parentElement.querySelector(":scope > a") ?? (from.matches('.inputs a[aria-expanded="true"]') ? from : null);
    const reason = from.closest("details[open]:is(.line, .why, .accept)");
    if (link) {
      closeInput(link);
      link.focus();
    } else if (reason) {
      reason.open = false;
      reason.querySelector("summary").focus();
    }
  }
}

function toFinding(step) {
  const all = [...document.querySelectorAll(".finding")];
  const here = all.indexOf(document.activeElement.closest(".finding"));
  const next = all[here < 0 ? (step > 0 ? 0 : all.length - 1) : (here + step + all.length) % all.length];
  if (!next) return say("Nothing was found.");
  next.tabIndex = -1;
  next.focus();
  next.scrollIntoView({ block: "nearest" });
}

// ---- ticks: kept in this browser, they are no part of the job ----------------------------------------------------------

const ticksKey = "drivewright ticks " + job;
const ticks = () => JSON.parse(localStorage.getItem(ticksKey) ?? "{}");

function keepTick(box) {
  const all = ticks();
  if (box.checked) all[box.dataset.tick] = true;
  else delete all[box.dataset.tick];
  localStorage.setItem(ticksKey, JSON.stringify(all));
}

function showTicks() {
  const all = ticks();
  for (const box of document.querySelectorAll("[data-tick]")) box.checked = Boolean(all[box.dataset.tick]);
}

// ---- where one is in the sheet ---------------------------------------------------------------------------------------

const narrow = matchMedia("(max-width: 52rem)");
const inSight = new Set();
const sights = new IntersectionObserver((entries) => {
  for (const e of entries) (e.isIntersecting ? inSight.add(e.target.id) : inSight.delete(e.target.id));
  found();
}, { rootMargin: "-12% 0px -70% 0px" });

function watchSections() {
  sights.disconnect();
  inSight.clear();
  for (const section of document.querySelectorAll("#sheet > section")) sights.observe(section);
}

function found() {
  let last = null;
  for (const link of document.querySelectorAll("#contents a")) {
    link.removeAttribute("aria-current");
    if (inSight.has(link.hash.slice(1))) last = link;
  }
  if (!last) return;
  last.setAttribute("aria-current", "true");
  document.querySelector("#contents summary span").textContent = last.textContent;
}

// ---- hearing of changes, and losing and finding the server -------------------------------------------------------------

let stream, alive, retry;

function connect() {
  clearTimeout(retry);
  stream?.close();
  stream = new EventSource(address + "/events");
  const heard = () => {
    clearTimeout(alive);
    alive = setTimeout(lost, 25_000);
  };
  stream.onopen = () => {
    heard();
    if (sheet.gone) back();
  };
  stream.addEventListener("beat", heard);
  stream.addEventListener("missing", () => banner("The job file is gone from its folder. What you see is what was read last."));
  stream.onmessage = ({ data }) => {
    heard();
    if (sheet.gone) back();
    banner("");
    if (data !== sheet.token) {
      inTurn(async () => {
        if (data === sheet.token) return; // our own change, answered meanwhile
        await refresh();
        say("Changed elsewhere, and shown as it is now.");
      });
    }
  };
  // The proof has been worked out, or a reading was taken: nobody changed the file.
  stream.addEventListener("beside", ({ data }) => {
    if (data !== sheet.beside) inTurn(async () => data !== sheet.beside && refresh());
  });
  stream.onerror = lost;
}

function lost() {
  stream?.close();
  clearTimeout(alive);
  clearTimeout(retry);
  retry = setTimeout(connect, 1000);
  if (sheet.gone) return;
  sheet.gone = true;
  page.dataset.now = "gone";
  state("not connected");
  banner("The program isn't answering. Go on: what you type is kept in this browser, and is sent when it is back.", build("button", { type: "button", "data-do": "again" }, "Try now"));
}

function back() {
  sheet.gone = false;
  delete page.dataset.now;
  banner("");
  state("saved");
  for (const [path, draft] of Object.entries(drafts.all())) if (draft.ready) sendDraft(path, false);
  inTurn(refresh);
}

function banner(...content) {
  byId("banner").replaceChildren(...content.filter(Boolean));
}

// A browser opens few streams to one server: a page that nobody looks at gives its own up, and catches up when seen again.
document.addEventListener("visibilitychange", () => {
  clearTimeout(page.later);
  if (!document.hidden) {
    if (stream.readyState === EventSource.CLOSED) connect();
  } else {
    page.later = setTimeout(() => {
      stream.close();
      clearTimeout(alive);
    }, 60_000);
  }
});

// ---- start -----------------------------------------------------------------------------------------------------------

function unfoldAnswers(which = () => true) {
  if (!narrow.matches) for (const part of document.querySelectorAll("details.asks")) part.open ||= which(part);
}

function showTarget() {
  const target = byId(location.hash.slice(1));
  if (!target) return;
  unfold(target);
  target.scrollIntoView();
}

document.querySelector("#contents details").open = !narrow.matches;
unfoldAnswers();
addEventListener("hashchange", showTarget);
narrow.addEventListener("change", () => {
  document.querySelector("#contents details").open = !narrow.matches;
  unfoldAnswers(); // but a phone turned upright again folds nothing away
});
for (const choice of document.querySelectorAll('[name="light"]')) choice.checked = choice.value === chosenLight();
for (const [path, draft] of Object.entries(drafts.all())) {
  const control = controlAt(path, draft.id);
  if (!control) continue;
  control.value = draft.text;
  if (!isDirty(control)) drafts.drop(path);
  else if (draft.ready) sendDraft(path, false);
  else refuse(control, build("p", {}, "Typed before and not taken yet: Enter takes it, Escape puts back what the file says."));
}
if (sheet.units) for (const link of document.querySelectorAll("[data-units-link]")) link.search = "?units=" + sheet.units;
showBoxWork(JSON.parse(page.dataset.box));
showTicks();
watchSections();
showTarget();
connect();
page.dataset.ready = "yes";
