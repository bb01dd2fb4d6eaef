// What the telephone keeps by itself: where one was, what is half typed, what isn't written down by the program yet, the ticks.

export class Notebook {
  constructor(job) {
    this.key = "drivewright readings " + job;
    this.ticksKey = "drivewright ticks " + job; // the sheet keeps its ticks under the same name
    this.kept = { view: "measure", at: {}, typed: {}, skipped: [], queue: [], by: "", meter: "", before: [], extras: {}, ...read(this.key) };
  }

  get view() { return this.kept.view; }
  get queue() { return this.kept.queue; }
  get skipped() { return this.kept.skipped; }
  get by() { return this.kept.by; }
  get meter() { return this.kept.meter; }
  get begun() { return Boolean(this.kept.begun); }

  at(view) { return this.kept.at[view] ?? ""; }
  typed(id) { return this.kept.typed[id] ?? {}; }

  turn(view) {
    this.kept.view = view;
    this.#write();
  }

  go(view, id) {
    this.kept.at[view] = id;
    if (view === "measure" && id !== "begin") this.kept.begun = true;
    this.#write();
  }

  type(id, typed) {
    if (typed.word || typed.digits || typed.unit) this.kept.typed[id] = typed;
    else delete this.kept.typed[id];
    this.#write();
  }

  skip(id) {
    if (!this.kept.skipped.includes(id)) this.kept.skipped.push(id);
    this.#write();
  }

  // take puts what was measured into the queue, with the time at which it was: it may be sent much later.
  take(reading, value) {
    const { by, meter } = this.kept;
    this.kept.queue.push({ key: newKey(), reading, value, by, meter, at: wallClock(new Date()) });
    this.kept.skipped = this.kept.skipped.filter((id) => id !== reading);
    delete this.kept.typed[reading];
    this.#write();
  }

  // sent lets go of what has been written down, or refused, by the program.
  sent(keys) {
    this.kept.queue = this.kept.queue.filter((q) => !keys.includes(q.key));
    this.#write();
  }

  // extra keeps the card of a reading that isn't on the sheet, so that it can be measured again when the fault is mended. It is of
  // the circuit with the mark, and goes with it.
  extra(mark, id, card) {
    if (this.kept.extras.mark !== mark) this.kept.extras = { mark, cards: {} };
    this.kept.extras.cards[id] = card;
    this.#write();
  }

  extras(mark) { return this.kept.extras.mark === mark ? this.kept.extras.cards : {}; }

  who(by, meter) {
    Object.assign(this.kept, { by, meter });
    this.#write();
  }

  isBefore(text) { return this.kept.before.includes(text); }

  before(text, done) {
    this.kept.before = this.kept.before.filter((t) => t !== text);
    if (done) this.kept.before.push(text);
    this.#write();
  }

  ticked(key) { return Boolean(read(this.ticksKey)[key]); }

  tick(key, done) {
    const ticks = read(this.ticksKey);
    if (done) ticks[key] = true;
    else delete ticks[key];
    write(this.ticksKey, ticks);
  }

  #write() {
    write(this.key, this.kept);
  }
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key)) ?? {};
  } catch {
    return {};
  }
}

function write(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // no room or not allowed: it lasts as long as the page
  }
}

// newKey makes up a name that no other reading has. A browser has crypto.randomUUID only for pages of this computer or over HTTPS.
const newKey = () => [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, "0")).join("");

// wallClock writes the time as the clock on the shop's wall shows it.
function wallClock(now) {
  const two = (n) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())} ${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}`;
}
