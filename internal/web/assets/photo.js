// Holes in a photo. The picture is read by this page and goes nowhere; what is written into the job are dots of it.
import { ask, build, Gone } from "./ask.js";

const page = document.body;
const byId = (id) => document.getElementById(id);
const address = "/job/" + encodeURIComponent(page.dataset.job) + "/photo";
const cornerNames = ["lower left corner", "lower right corner", "upper right corner", "upper left corner"];
const picture = byId("picture"), glass = byId("glass");
const magnified = 2; // screen dots for one of the picture, in the glass

let state = JSON.parse(page.dataset.state);
let photo = null; // an ImageBitmap, upright as it was taken
let points = []; // { name, hole, at: [x, y] or null }
let chosen = 0;
let changed = false;

function take(fresh) {
  state = fresh;
  const at = (text) => (text ? text.split(",").map(Number) : null);
  points = [...cornerNames.map((name) => ({ name, hole: false, at: at(state.corners[name]) })), ...(state.holes ?? []).map((h) => ({ name: h.name, hole: true, written: true, at: at(h.seen) }))];
  if (points.length === 4) addHole();
  byId("pattern").value = state.pattern;
  byId("patterns").replaceChildren(...(state.patterns ?? []).map((p) => build("option", { value: p })));
  if (state.page) byId("page").value = state.page;
  changed = false;
  chosen = Math.min(chosen, points.length - 1);
}

function addHole() {
  const taken = new Set(points.filter((p) => p.hole).map((p) => p.name));
  let n = 0;
  const name = () => (n < 26 ? String.fromCharCode(65 + n) : "H" + (n - 25));
  while (taken.has(name())) n++;
  points.push({ name: name(), hole: true, at: null });
  return points.length - 1;
}

// ---- what is seen ----------------------------------------------------------------------------------------------------

// The picture as it lies in its canvas: dots of the screen for one of the picture, and where its corner is.
function fit() {
  const [w, h] = [picture.clientWidth, picture.clientHeight];
  const scale = Math.min(w / photo.width, h / photo.height);
  return { scale, left: (w - photo.width * scale) / 2, top: (h - photo.height * scale) / 2 };
}

// mark draws a point: a cross that leaves its middle free, light on dark so that it shows on any picture.
function mark(c, x, y, text, on) {
  for (const [width, stroke] of [[4, "#fff"], [on ? 2 : 1.2, on ? "#c2185b" : "#000"]]) {
    c.lineWidth = width;
    c.strokeStyle = stroke;
    c.beginPath();
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      c.moveTo(x + 4 * dx, y + 4 * dy);
      c.lineTo(x + 14 * dx, y + 14 * dy);
    }
    c.stroke();
  }
  if (!text) return;
  c.font = "600 13px sans-serif";
  c.lineWidth = 4;
  c.strokeStyle = "#fff";
  c.strokeText(text, x + 10, y - 10);
  c.fillStyle = on ? "#c2185b" : "#000";
  c.fillText(text, x + 10, y - 10);
}

function draw() {
  if (!photo) return;
  const dots = devicePixelRatio || 1;
  const [w, h] = [Math.round(picture.clientWidth * dots), Math.round(picture.clientHeight * dots)];
  if (picture.width !== w || picture.height !== h) [picture.width, picture.height] = [w, h];
  const c = picture.getContext("2d");
  const { scale, left, top } = fit();
  c.setTransform(dots, 0, 0, dots, 0, 0);
  c.clearRect(0, 0, w, h);
  c.imageSmoothingQuality = "high";
  c.drawImage(photo, left, top, photo.width * scale, photo.height * scale);
  const to = ([x, y]) => [left + x * scale, top + y * scale];
  const corners = points.slice(0, 4);
  if (corners.every((p) => p.at)) {
    c.beginPath();
    corners.forEach((p, n) => c[n ? "lineTo" : "moveTo"](...to(p.at)));
    c.closePath();
    c.setLineDash([6, 5]);
    c.lineWidth = 2;
    c.strokeStyle = "#c2185b";
    c.stroke();
    c.setLineDash([]);
  }
  points.forEach((p, n) => p.at && mark(c, ...to(p.at), p.hole ? p.name : "", n === chosen));
  drawGlass();
}

function drawGlass() {
  const p = points[chosen];
  glass.hidden = !photo || !p?.at;
  if (glass.hidden) return;
  const { scale, left } = fit();
  const leftHalf = left + p.at[0] * scale < picture.clientWidth / 2;
  glass.className = leftHalf ? "right" : "left"; // never over the point itself
  const c = glass.getContext("2d");
  const reach = glass.width / magnified / 2;
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.clearRect(0, 0, glass.width, glass.height);
  c.imageSmoothingEnabled = false;
  c.drawImage(photo, p.at[0] - reach, p.at[1] - reach, 2 * reach, 2 * reach, 0, 0, glass.width, glass.height);
  mark(c, glass.width / 2, glass.height / 2, "", true);
}

function show() {
  picture.hidden = !photo;
  byId("none").hidden = Boolean(photo);
  const label = (p) => (p.hole ? "hole " + p.name : p.name + " of the sheet");
  byId("point").replaceChildren(...points.map((p, n) => build("option", { value: n, ...(n === chosen ? { selected: "" } : {}) }, label(p) + (p.at ? "" : ", not tapped yet"))));
  const p = points[chosen];
  byId("name").value = p.hole ? p.name : "";
  byId("name").disabled = !p.hole || Boolean(p.written);
  const left = points.filter((q) => !q.at);
  byId("next").textContent = !photo ? "Take the photo from straight above, with the sheet flat on the face that the holes are in."
    : !p.at ? `Tap the ${p.hole ? "middle of " : ""}${label(p)}.`
    : left.length ? `Drag within the round glass to set it exactly. Next: ${label(left[0])}.` : "All are tapped. Drag within the round glass to set one exactly.";
  document.querySelector('[data-do="write"]').disabled = !changed || points.slice(0, 4).some((q) => !q.at) || !points.some((q) => q.hole && q.at);
  document.querySelector('[data-do="undo"]').disabled = !state.undo;
  const found = byId("found");
  found.replaceChildren();
  if (changed) found.append(build("p", { class: "soft" }, "Not written into the job yet."));
  else if (state.refused) found.append(build("p", { class: "refusal" }, "The photo can't be used: " + state.refused));
  else if (state.found) found.append(build("p", { class: "clear" }, "Found, as on the sheet under Make:"), build("ul", {}, ...state.found.map((f) => build("li", {}, f))));
  draw();
}

// ---- tapping ---------------------------------------------------------------------------------------------------------

const within = ([x, y]) => [Math.max(0, Math.min(photo.width - 1, x)), Math.max(0, Math.min(photo.height - 1, y))];

function put(at) {
  points[chosen].at = within(at);
  changed = true;
}

// A tap sets the chosen point; held down it follows.
let held = null;
picture.addEventListener("pointerdown", (event) => {
  if (event.button !== 0 || held) return;
  picture.setPointerCapture(event.pointerId);
  held = { id: event.pointerId, fresh: !points[chosen].at };
  follow(event);
});
picture.addEventListener("pointermove", (event) => held?.id === event.pointerId && follow(event));
for (const over of ["pointerup", "pointercancel"]) picture.addEventListener(over, (event) => {
  if (held?.id !== event.pointerId) return;
  const { fresh } = held;
  held = null;
  // With a mouse one taps on; a finger sets the point exactly first, and Enter or the list goes on.
  if (fresh && event.pointerType === "mouse") next();
  else show();
});

function follow(event) {
  const { left, top } = picture.getBoundingClientRect();
  const f = fit();
  put([(event.clientX - left - f.left) / f.scale, (event.clientY - top - f.top) / f.scale]);
  show();
}

// Within the glass the picture is moved under the cross, so a finger is as exact as a mouse.
let fine = null;
glass.addEventListener("pointerdown", (event) => {
  event.preventDefault();
  glass.setPointerCapture(event.pointerId);
  fine = { id: event.pointerId, from: [event.clientX, event.clientY], at: points[chosen].at, side: glass.className };
});
glass.addEventListener("pointermove", (event) => {
  if (fine?.id !== event.pointerId) return;
  put([0, 1].map((n) => fine.at[n] - ([event.clientX, event.clientY][n] - fine.from[n]) / magnified));
  draw();
  glass.className = fine.side; // it stays under the finger
});
for (const over of ["pointerup", "pointercancel"]) glass.addEventListener(over, () => {
  fine = null;
  show();
});

picture.addEventListener("keydown", (event) => {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (!way) {
    if (event.key === "Enter") next();
    return;
  }
  event.preventDefault();
  const by = event.shiftKey ? 20 : 1;
  const at = points[chosen].at ?? [photo.width / 2, photo.height / 2];
  put(at.map((v, n) => v + by * way[n]));
  show();
});

function next() {
  const n = points.findIndex((p) => !p.at);
  if (n >= 0) chosen = n;
  show();
}

// ---- what is touched beside it -----------------------------------------------------------------------------------------

byId("file").addEventListener("change", async ({ target }) => {
  byId("refusal").textContent = "";
  const [file] = target.files;
  if (!file) return;
  try {
    photo = await createImageBitmap(file);
  } catch {
    byId("refusal").textContent = "This browser can't read that picture: save it as JPEG or PNG.";
    return;
  }
  next();
});
byId("point").addEventListener("change", ({ target }) => {
  chosen = Number(target.value);
  show();
});
byId("name").addEventListener("change", ({ target }) => {
  const p = points[chosen];
  const name = target.value.trim();
  if (!name || points.some((q) => q !== p && q.name === name)) byId("refusal").textContent = name ? `there is a hole ${name} already` : "a hole needs a name";
  else {
    p.name = name;
    changed = true;
  }
  show();
});
for (const id of ["page", "pattern"]) byId(id).addEventListener("change", () => {
  changed = true;
  const other = (state.patterns ?? []).includes(byId("pattern").value) && byId("pattern").value !== state.pattern;
  if (other) location.href = `${address}/${encodeURIComponent(byId("pattern").value)}${location.search}`;
  show();
});

async function asked(verb, body) {
  try {
    const answer = await ask("POST", address + verb, { token: state.token, units: page.dataset.units, item: byId("pattern").value.trim(), ...body });
    byId("banner").replaceChildren();
    return answer;
  } catch (error) {
    if (!(error instanceof Gone)) throw error;
    byId("banner").textContent = "The program isn't answering. What you tapped stays here until it does.";
    return null;
  }
}

async function write(verb, body) {
  byId("refusal").textContent = "";
  const answer = await asked(verb, body);
  if (!answer) return;
  if (answer.status === 200) take(answer.body);
  else {
    if (answer.body.token) state.token = answer.body.token;
    byId("refusal").textContent = answer.body.late ? "The file was changed elsewhere meanwhile. Press it once more to write this all the same." : answer.body.message;
  }
  show();
}

const dots = ([x, y]) => `${Math.round(x)}, ${Math.round(y)}`;
const deeds = {
  next,
  hole: () => {
    chosen = addHole();
    show();
  },
  write: () => write("", {
    values: { "sheet in the photo": byId("page").value, ...Object.fromEntries(points.slice(0, 4).map((p) => [p.name, dots(p.at)])) },
    places: points.filter((p) => p.hole && p.at).map((p) => ({ tag: p.name, x: p.at[0], y: p.at[1] })),
  }),
  undo: () => write("/undo", {}),
};
page.addEventListener("click", ({ target }) => {
  const deed = target.closest("button")?.dataset.do;
  if (deed) deeds[deed]();
});
new ResizeObserver(() => draw()).observe(byId("stage"));

take(state);
show();
page.dataset.ready = "yes";
