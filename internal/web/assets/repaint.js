// Brings the page to what the server sent, touching only what differs: the focus, the caret, opened reasons and what is
// being typed stay as they are.

// What the reader did to an element isn't the server's to take back.
const readersOwn = new Set(["open", "aria-invalid", "aria-describedby", "aria-current", "aria-expanded", "data-now"]);

// isDirty reports whether something is typed in the control that the file doesn't hold.
export const isDirty = (control) => control.value.trim() !== control.dataset.was.trim();

// repaint brings the parts of the sheet, in their order, to the painting's. It returns the ids of the parts that it left as they
// were: while the proof is being worked out again, the one before stands there, marked as what it is.
export function repaint(painting) {
  const main = document.getElementById("sheet");
  const anchor = anchorLine(main);
  const before = anchor?.getBoundingClientRect().top;
  const focused = document.activeElement?.id;
  const opened = openedInputs(main);
  const held = hold(main, painting);
  const kept = keepBox(main, painting);
  let last = null;
  const wanted = new Set([...held, ...kept, "box-work"]);
  for (const part of painting.parts) {
    wanted.add(part.id);
    let have = document.getElementById(part.id);
    if (part.html && !held.has(part.id)) {
      const fresh = parse(part.html);
      if (have) morph(have, fresh);
      else {
        if (last) last.after(fresh);
        else main.prepend(fresh);
        have = fresh;
      }
    }
    if (part.id !== "contents") last = have;
  }
  for (const old of [...main.children]) if (!wanted.has(old.id)) old.remove();
  showBoxWork(painting.box);
  reopenInputs(main, opened);
  if (focused && document.activeElement === document.body) document.getElementById(focused)?.focus({ preventScroll: true });
  const now = anchor?.isConnected ? anchor : document.getElementById(anchor?.id); // a value that was added moves up among the written ones
  if (now) {
    const moved = now.getBoundingClientRect().top - before;
    if (Math.abs(moved) > 0.5) scrollBy({ top: moved, behavior: "instant" });
  }
  return new Set([...held, ...kept]);
}

// stage is the stage's own part and those that follow it, up to the next stage.
function stage(main, id) {
  const parts = [];
  for (let part = document.getElementById(id); part && (!parts.length || !part.matches(".level-1")); part = part.nextElementSibling) parts.push(part);
  return parts;
}

// keepBox keeps what the arrangement before had put under Box and Make while a first new one is looked for, marked as old, and returns the ids.
function keepBox(main, painting) {
  const kept = new Set();
  const looking = painting.box.arranging && !painting.box.found;
  const comes = new Set(painting.parts.map((p) => p.id));
  for (const part of [...stage(main, "s-box"), ...stage(main, "s-make")]) {
    part.removeAttribute("aria-busy");
    if (!looking || comes.has(part.id) || part.id === "box-work") continue;
    kept.add(part.id);
    part.setAttribute("aria-busy", "true");
  }
  return kept;
}

// showBoxWork says how the search for the arrangement stands, at the head of the Box stage, with the button that ends it or takes it up again.
export function showBoxWork(work) {
  const before = document.getElementById("box-work");
  if (!work?.said || !document.getElementById("s-box")) {
    before?.remove();
    return;
  }
  const line = before ?? document.createElement("div");
  if (line.previousElementSibling?.id !== "s-box") document.getElementById("s-box").after(line); // parts were put between
  if (line.dataset.said === work.said) return;
  line.dataset.said = work.said;
  line.id = "box-work";
  line.className = "behind";
  line.setAttribute("role", "status");
  const text = document.createElement("p");
  text.textContent = work.said;
  line.replaceChildren(text);
  if (work.arranging || work.stopped) {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.do = work.arranging ? "stop-arranging" : "arrange-on";
    button.textContent = work.arranging ? "Stop here" : "Search on";
    line.append(button);
  }
}

// hold marks the parts of the Prove stage as being of the circuit before, and returns their ids; none if the painting has them
// as they are now, or if nothing was proved before.
function hold(main, painting) {
  const page = document.body;
  const before = main.querySelector("[aria-busy]") || page.dataset.proving === undefined;
  for (const part of main.querySelectorAll("[aria-busy]")) part.removeAttribute("aria-busy");
  main.querySelector("p.behind")?.remove();
  const held = new Set();
  if (painting.proving) page.dataset.proving = "";
  else delete page.dataset.proving;
  const first = document.getElementById("s-prove");
  if (!first || !before || !painting.proving) return held;
  for (let part = first; part && (part === first || !part.matches(".level-1")); part = part.nextElementSibling) {
    held.add(part.id);
    part.setAttribute("aria-busy", "true");
  }
  const note = document.createElement("p");
  note.className = "behind";
  note.textContent = "The circuit was changed. What stands here is of the circuit before, until the new one has been worked through.";
  first.querySelector("h2").after(note);
  return held;
}

function parse(html) {
  const holder = document.createElement("template");
  holder.innerHTML = html; // from our own server, which has escaped every text in it
  return holder.content.firstElementChild;
}

// anchorLine is what shall not move on the screen: the line being worked in, else the first thing in sight.
function anchorLine(main) {
  const active = document.activeElement?.closest(".line, .finding");
  if (active) return active;
  if (scrollY === 0) return null;
  for (const e of main.querySelectorAll(".line, h2, h3, figure")) if (e.getBoundingClientRect().top > 0) return e;
  return null;
}

// morph brings the element to the fresh one.
export function morph(have, fresh) {
  if (have.isEqualNode(fresh)) return;
  if (have.nodeType !== Node.ELEMENT_NODE) {
    if (have.data !== fresh.data) have.data = fresh.data;
    return;
  }
  if (have.nodeName !== fresh.nodeName || have.nodeName === "svg") {
    have.replaceWith(fresh);
    return;
  }
  const control = have.dataset?.path !== undefined;
  const dirty = control && isDirty(have);
  if (have.classList.contains("refusal") && have.parentElement.querySelector("[aria-invalid]")) return;
  for (const { name } of [...have.attributes]) if (!fresh.hasAttribute(name) && !readersOwn.has(name)) have.removeAttribute(name);
  for (const { name, value } of fresh.attributes) {
    if (readersOwn.has(name) || (name === "value" && control)) continue;
    if (have.getAttribute(name) !== value) have.setAttribute(name, value);
  }
  if (control) {
    if (have.nodeName === "SELECT") {
      const typed = have.value;
      have.replaceChildren(...fresh.children);
      if (dirty) have.value = typed;
    } else if (!dirty) {
      const text = fresh.value;
      if (have.value !== text) have.value = text;
      if (have.nodeName === "INPUT") have.setAttribute("value", text);
      else have.defaultValue = text;
    }
    return;
  }
  if (have.nodeName === "INPUT") return;
  morphChildren(have, fresh);
}

function morphChildren(have, fresh) {
  const ids = new Map();
  for (const child of have.children) if (child.id) ids.set(child.id, child);
  const kept = new Set();
  for (const child of fresh.children) if (child.id) kept.add(child.id);
  let at = have.firstChild;
  for (let want = fresh.firstChild, next; want; want = next) {
    next = want.nextSibling;
    let match = null;
    if (want.id) match = ids.get(want.id) ?? null;
    else if (at && !at.id && at.nodeName === want.nodeName) match = at;
    if (!match) {
      have.insertBefore(want, at);
      continue;
    }
    if (match !== at) {
      // Moving an element would take its focus away: rather take out what stands before it, if that is to go anyhow.
      const between = [];
      for (let n = at; n && n !== match; n = n.nextSibling) between.push(n);
      if (at && match.compareDocumentPosition(at) & Node.DOCUMENT_POSITION_PRECEDING && between.every((n) => !kept.has(n.id))) {
        for (const n of between) n.remove();
        at = match;
      } else have.insertBefore(match, at);
    }
    if (match === at) at = match.nextSibling;
    morph(match, want);
  }
  while (at) {
    const next = at.nextSibling;
    at.remove();
    at = next;
  }
}

// Reasons opened within reasons: each is known by its line and the links that lead to it.
const trail = (link) => {
  const links = [];
  for (let li = link.closest("li"); li; li = li.parentElement.closest(".inputs > li")) links.unshift(li.querySelector("a").getAttribute("href"));
  return { line: link.closest(".line")?.id, links };
};

function openedInputs(main) {
  return [...main.querySelectorAll('.inputs a[aria-expanded="true"]')].map(trail);
}

function reopenInputs(main, opened) {
  for (const { line, links } of opened) {
    let scope = document.getElementById(line);
    for (const href of links) {
      const link = [...(scope?.querySelectorAll(".inputs > li > a") ?? [])].find((a) => a.getAttribute("href") === href);
      if (!link) break;
      if (link.getAttribute("aria-expanded") !== "true" || !link.parentElement.querySelector(":scope > .reason")) openInput(link);
      scope = link.parentElement;
    }
  }
}

// openInput shows the reason that the link leads to beneath it, so that one can walk down to the nameplate without losing
// the place. It returns false when there is none to show.
export function openInput(link) {
  const target = document.getElementById(link.getAttribute("href").slice(1));
  const reason = target?.querySelector(":scope > .reason, :scope > .why > .reason");
  if (!reason) return false;
  const copy = reason.cloneNode(true);
  for (const e of copy.querySelectorAll(".inputs .reason, .go")) e.remove();
  for (const e of copy.querySelectorAll("[aria-expanded]")) e.removeAttribute("aria-expanded");
  const go = document.createElement("a");
  go.className = "go";
  go.href = link.getAttribute("href");
  go.textContent = "to its place on the sheet";
  copy.append(go);
  link.parentElement.querySelector(":scope > .reason")?.remove();
  link.parentElement.append(copy);
  link.setAttribute("aria-expanded", "true");
  return true;
}

export function closeInput(link) {
  link.parentElement.querySelector(":scope > .reason")?.remove();
  link.setAttribute("aria-expanded", "false");
}
