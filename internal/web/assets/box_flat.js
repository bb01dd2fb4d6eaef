// One face of the box, flat, in millimetres: parts are dragged by hand or moved by the arrow keys. It decides nothing: it tells where a part is
// held, and is told what is wrong with that.

const made = (name, attributes, ...content) => {
  const element = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...content);
  return element;
};

export class Flat {
  // deeds are { pick(tag), move(tag, x, y) }: x and y count from the lower left corner of the face.
  constructor(holder, deeds) {
    this.holder = holder;
    this.deeds = deeds;
    this.groups = new Map();
  }

  // show draws the face, "plate" or "door", of the state.
  show(state, face, chosen) {
    this.state = state;
    this.face = face;
    const [width, height] = state.size;
    const focused = document.activeElement?.closest?.("#flat g")?.dataset.tag;
    const kept = this.held;
    const margin = Math.max(width, height) * 0.03;
    const up = (y) => height - y;
    const block = (at, size, name) => made("rect", { class: name, x: at[0], y: up(at[1] + size[1]), width: size[0], height: size[1] });
    const svg = made("svg", { viewBox: `${-margin} ${-margin} ${width + 2 * margin} ${height + 2 * margin}`, role: "group", "aria-label": `parts on the ${face}, seen from the front` });
    svg.append(block([0, 0], state.size, "outer"));
    if (face === "plate") svg.append(block(state.plate.at, state.plate.size, "ground"), ...state.rails.map((r) => block(r.at, r.size, "rail")));
    for (const e of state.entries) {
      const r = e.hole / 2;
      const flat = { left: [0, 1], right: [0, 1], top: [1, 0], bottom: [1, 0] }[e.face.split(" ")[0]];
      if (flat) svg.append(made("line", { class: "entry", x1: e.at[0] - r * flat[0], x2: e.at[0] + r * flat[0], y1: up(e.at[1] - r * flat[1]), y2: up(e.at[1] + r * flat[1]) }));
    }
    for (const p of state.parts) if (p.face !== face) svg.append(block(p.at, p.size, "ghost"));
    this.groups.clear();
    // What is chosen lies on top, so that a part under which it was pushed doesn't hide it.
    const here = state.parts.filter((p) => p.face === face).sort((a, b) => (a.tag === chosen) - (b.tag === chosen));
    for (const p of here) svg.append(this.group(p, chosen, up));
    this.holder.replaceChildren(svg);
    this.svg = svg;
    if (focused) this.groups.get(focused)?.focus({ preventScroll: true });
    if (kept && this.groups.has(kept.tag)) this.groups.get(kept.tag).classList.add("held");
  }

  group(p, chosen, up) {
    const [x, y] = p.at;
    const [w, h] = p.size;
    const a = p.air;
    const g = made("g", { "data-tag": p.tag, tabindex: 0, role: "button", "aria-pressed": String(p.tag === chosen), "aria-label": `${p.tag}, ${p.name}: ${p.place}${p.clashes ? "; " + p.clashes.join("; ") : ""}` });
    g.classList.toggle("movable", p.movable);
    g.classList.toggle("power", p.power);
    g.classList.toggle("chosen", p.tag === chosen);
    g.classList.toggle("clash", Boolean(p.clashes));
    if (a.some(Boolean)) g.append(made("rect", { class: "air", x: x - a[0], y: up(y + h + a[3]), width: w + a[0] + a[1], height: h + a[2] + a[3] }));
    g.append(made("rect", { class: "body", x, y: up(y + h), width: w, height: h }));
    if (p.clashes) for (const [x1, x2] of [[x, x + w], [x + w, x]]) g.append(made("line", { class: "cross", x1, y1: up(y), x2, y2: up(y + h) }));
    if (p.settled) g.append(made("circle", { class: "pin", cx: x + 5, cy: up(y + h - 5), r: 2.4 }));
    const size = Math.min(Math.max(this.state.size[1] / 34, 8), Math.max(w, h) / 2.4);
    const turned = h > w && w < size * 2.6;
    g.append(made("text", { x: x + w / 2, y: up(y + h / 2), "font-size": size, ...(turned ? { transform: `rotate(-90 ${x + w / 2} ${up(y + h / 2)})` } : {}) }, p.tag));
    this.groups.set(p.tag, g);
    g.addEventListener("pointerdown", (event) => this.grip(event, p.tag));
    g.addEventListener("focus", () => this.held || this.deeds.pick(p.tag));
    g.addEventListener("keydown", (event) => this.key(event, p.tag));
    return g;
  }

  part(tag) {
    return this.state.parts.find((p) => p.tag === tag);
  }

  // corner is the place of a part's lower left corner on its face.
  corner(p) {
    return this.face === "plate" ? [p.at[0] - this.state.plate.at[0], p.at[1] - this.state.plate.at[1]] : [p.at[0], p.at[1]];
  }

  // snapped is a place brought to an edge of the plate or of a neighbour that is near, else to the step's grid.
  snapped(tag, at, near) {
    const p = this.part(tag);
    const ground = this.face === "plate" ? this.state.plate : { at: [0, 0], size: this.state.size };
    return at.map((v, n) => {
      const edges = [0, ground.size[n] - p.size[n]];
      for (const o of this.state.parts) if (o.face === this.face && o.tag !== tag) {
        const low = this.corner(o)[n];
        edges.push(low, low + o.size[n], low - p.size[n], low + o.size[n] - p.size[n]);
      }
      const best = edges.reduce((a, b) => (Math.abs(b - v) < Math.abs(a - v) ? b : a));
      return Math.abs(best - v) < near ? best : Math.round(v / this.state.step) * this.state.step;
    });
  }

  // grip begins a drag. The picture is drawn anew while it goes on, so the pointer is held by what stays: the holder.
  grip(event, tag) {
    if (event.button !== 0 || this.held) return;
    event.preventDefault();
    const p = this.part(tag);
    if (!p.movable) {
      this.deeds.pick(tag);
      return;
    }
    this.holder.setPointerCapture(event.pointerId);
    const scale = this.svg.getScreenCTM().a;
    const [x, y] = this.corner(p);
    this.held = { tag, id: event.pointerId };
    this.deeds.pick(tag);
    const from = [event.clientX, event.clientY];
    const move = (e) => {
      if (e.pointerId !== event.pointerId) return;
      e.preventDefault();
      const to = this.snapped(tag, [x + (e.clientX - from[0]) / scale, y - (e.clientY - from[1]) / scale], Math.max(this.state.step, 5 / scale));
      if (Math.hypot(e.clientX - from[0], e.clientY - from[1]) > 3 || this.held.moved) {
        this.held.moved = true;
        this.deeds.move(tag, to[0], to[1]);
      }
    };
    const end = (e) => {
      if (e.pointerId !== event.pointerId) return;
      this.held = null;
      for (const over of ["pointerup", "pointercancel"]) this.holder.removeEventListener(over, end);
      this.holder.removeEventListener("pointermove", move);
      this.groups.get(tag)?.classList.remove("held");
      this.groups.get(tag)?.focus({ preventScroll: true });
    };
    this.holder.addEventListener("pointermove", move);
    for (const over of ["pointerup", "pointercancel"]) this.holder.addEventListener(over, end);
  }

  key(event, tag) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const p = this.part(tag);
    if (!way || !p.movable) return;
    event.preventDefault();
    const s = this.state.step;
    const far = s * (event.shiftKey ? 10 : 1);
    const [x, y] = this.corner(p);
    // On the step's own grid, so that a part that the search has put anywhere comes to round figures.
    const to = [x, y].map((v, n) => (way[n] ? Math.round((v + far * way[n]) / s) * s : v));
    this.deeds.move(tag, to[0], to[1]);
  }
}
