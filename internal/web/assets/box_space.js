// The box in space, drawn by WebGL: blocks with edges, and glass. Lengths are millimetres from the enclosure's lower left back corner, x to the
// right, y up, z towards the door. It is drawn only when something changed.

const shades = {
  vertex: `attribute vec3 at; attribute vec3 normal; uniform mat4 model; uniform mat4 seen; varying float light;
    void main() { vec3 n = normalize(mat3(model) * normal); light = 0.74 + 0.26 * dot(n, normalize(vec3(-0.35, 0.8, 0.6))); gl_Position = seen * model * vec4(at, 1.0); }`,
  fragment: `precision mediump float; uniform vec4 colour; uniform float flat_; varying float light;
    void main() { gl_FragColor = vec4(colour.rgb * mix(light, 1.0, flat_), colour.a); }`,
};

// Matrices are column by column, as WebGL has them.
const product = (a, b) => Array.from({ length: 16 }, (_, n) => [0, 1, 2, 3].reduce((sum, k) => sum + a[k * 4 + (n % 4)] * b[(n >> 2) * 4 + k], 0));
const placed = ([x, y, z], [w, h, d]) => [w, 0, 0, 0, 0, h, 0, 0, 0, 0, d, 0, x, y, z, 1];
const shift = (x, y, z) => placed([x, y, z], [1, 1, 1]);
const turnX = (a) => [1, 0, 0, 0, 0, Math.cos(a), Math.sin(a), 0, 0, -Math.sin(a), Math.cos(a), 0, 0, 0, 0, 1];
const turnY = (a) => [Math.cos(a), 0, -Math.sin(a), 0, 0, 1, 0, 0, Math.sin(a), 0, Math.cos(a), 0, 0, 0, 0, 1];
const still = shift(0, 0, 0);
const perspective = (half, aspect, near, far) => {
  const f = 1 / Math.tan(half);
  return [f / aspect, 0, 0, 0, 0, f, 0, 0, 0, 0, (far + near) / (near - far), -1, 0, 0, (2 * far * near) / (near - far), 0];
};
const times = (m, [x, y, z], w = 1) => [0, 1, 2, 3].map((n) => m[n] * x + m[n + 4] * y + m[n + 8] * z + m[n + 12] * w);

// A block from 0 to 1: its faces as triangles with their normals, then its edges.
function block() {
  const faces = [], edges = [];
  for (const axis of [0, 1, 2]) {
    const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
    for (const side of [0, 1]) {
      const corner = (p, q) => { const c = [0, 0, 0]; c[axis] = side; c[u] = p; c[v] = q; return c; };
      const normal = [0, 0, 0];
      normal[axis] = side ? 1 : -1;
      for (const [p, q] of [[0, 0], [1, 0], [1, 1], [0, 0], [1, 1], [0, 1]]) faces.push(...corner(p, q), ...normal);
    }
    for (const [p, q] of [[0, 0], [0, 1], [1, 0], [1, 1]]) for (const end of [0, 1]) { const c = [0, 0, 0]; c[axis] = end; c[u] = p; c[v] = q; edges.push(...c, 0, 0, 1); }
  }
  return new Float32Array([...faces, ...edges]);
}

// looks are turns about the upright and the lying axis.
const looks = { front: [0, 0.001], side: [-1.25, 0.12], corner: [-0.62, 0.42] };

export class Space {
  // make returns null where there is no WebGL.
  static make(canvas, tags, pick) {
    const gl = canvas.getContext("webgl", { antialias: true, alpha: true });
    return gl && new Space(gl, canvas, tags, pick);
  }

  constructor(gl, canvas, tags, pick) {
    Object.assign(this, { gl, canvas, tags, pick, open: 0, air: true, chosen: "", zoom: 1, looks: looks.corner, state: null });
    this.setUp();
    this.theme();
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    canvas.addEventListener("webglcontextrestored", () => { this.setUp(); this.draw(); });
    this.hands();
    new ResizeObserver(() => this.draw()).observe(canvas);
  }

  setUp() {
    const gl = this.gl;
    const program = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, shades.vertex], [gl.FRAGMENT_SHADER, shades.fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    gl.useProgram(program);
    this.uniform = Object.fromEntries(["model", "seen", "colour", "flat_"].map((name) => [name, gl.getUniformLocation(program, name)]));
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, block(), gl.STATIC_DRAW);
    for (const [name, from] of [["at", 0], ["normal", 12]]) {
      const place = gl.getAttribLocation(program, name);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 24, from);
    }
    gl.enable(gl.DEPTH_TEST);
    gl.enable(gl.BLEND);
    gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1, 1); // edges lie on their faces
  }

  // theme takes the colours of the page, light or dark.
  theme() {
    const probe = document.createElement("span");
    this.tags.after(probe);
    this.colours = Object.fromEntries(["paper", "raised", "ink", "soft", "edge", "touch", "danger", "must"].map((name) => {
      probe.style.color = `var(--${name})`;
      return [name, getComputedStyle(probe).color.match(/[\d.]+/g).slice(0, 3).map((v) => v / 255)];
    }));
    probe.remove();
    this.draw();
  }

  show(state, chosen) {
    const first = !this.state;
    this.state = state;
    this.chosen = chosen;
    if (first) this.look("corner");
    this.draw();
  }

  set(change) {
    Object.assign(this, change);
    this.draw();
  }

  draw() {
    if (this.asked || !this.state) return;
    this.asked = requestAnimationFrame(() => { this.asked = 0; this.paint(); });
  }

  // doorTurn is how the door and what is on it has moved, opened by so much of its way.
  doorTurn() {
    const [w, h, d] = this.state.size;
    const a = this.open * 1.95;
    const about = (x, y, turn) => product(product(shift(x, y, d), turn), shift(-x, -y, -d));
    switch (this.state.hinge) {
      case "left": return about(0, 0, turnY(-a));
      case "right": return about(w, 0, turnY(a));
      case "top": return about(0, h, turnX(-a));
      case "bottom": return about(0, 0, turnX(a));
    }
    return shift(0, 0, this.open * d * 1.2); // a screwed cover is lifted straight off
  }

  // eye is what turns a point of the box into one of the picture.
  eye() {
    const [w, h, d] = this.state.size;
    const aspect = this.canvas.clientWidth / Math.max(this.canvas.clientHeight, 1);
    const round = Math.hypot(w, h, d) / 2;
    const half = 0.3;
    // An open door wants room: farther away, and its side nearer to the middle.
    const away = ((round / Math.sin(half)) * Math.max(1, 0.9 / aspect) * (1 + 0.45 * this.open)) / this.zoom;
    const aside = { left: [-1, 0], right: [1, 0], top: [0, 1], bottom: [0, -1] }[this.state.hinge] ?? [0, 0];
    const by = 0.32 * Math.sin(Math.min(this.open * 1.95, Math.PI / 2));
    const turned = product(turnX(this.looks[1]), product(turnY(this.looks[0]), shift(-w / 2 - aside[0] * by * w, -h / 2 - aside[1] * by * h, -d / 2)));
    return { away, turned, seen: product(perspective(half, aspect, Math.max(away - 3 * round, away / 50), away + 4 * round), product(shift(0, 0, -away), turned)) };
  }

  // blocks are all that is drawn: { model, colour, alpha, edge, tag }.
  blocks() {
    const { state, colours: c } = this;
    const [w, h, d] = state.size;
    const t = Math.max(state.sheet, 1);
    const list = [];
    const put = (at, size, colour, alpha, edge, more = {}) => list.push({ model: product(more.turn ?? still, placed(at, size)), colour, alpha, edge, at, size, ...more });
    for (const [at, size] of [[[0, 0, 0], [w, h, t]], [[0, 0, 0], [t, h, d - t]], [[w - t, 0, 0], [t, h, d - t]], [[0, 0, 0], [w, t, d - t]], [[0, h - t, 0], [w, t, d - t]]]) put(at, size, c.edge, 0.13, c.edge);
    put(state.plate.at, state.plate.size, c.raised, 1, c.edge);
    for (const r of state.rails) put(r.at, r.size, c.edge, 1, c.soft);
    const door = this.doorTurn();
    put([0, 0, d - t], [w, h, t], c.edge, 0.16, c.ink, { turn: door });
    for (const e of state.entries) {
      const r = e.hole / 2, long = 22, at = [...e.at], size = [2 * r, 2 * r, 2 * r];
      const axis = { left: 0, right: 0, top: 1, bottom: 1, back: 2, door: 2, plate: 2 }[e.face.split(" ")[0]];
      for (const n of [0, 1, 2]) at[n] -= r;
      size[axis] = long;
      at[axis] = e.at[axis] > state.size[axis] / 2 ? e.at[axis] : e.at[axis] - long;
      put(at, size, c.soft, 1, c.ink);
    }
    for (const p of state.parts) {
      const turn = p.face === "door" ? door : still;
      const chosen = p.tag === this.chosen;
      const colour = p.clashes ? c.danger : chosen ? c.touch : p.power ? c.must.map((v, n) => 0.45 * v + 0.55 * c.raised[n]) : c.touch.map((v, n) => 0.16 * v + 0.84 * c.raised[n]);
      put(p.at, p.size, colour, 1, chosen ? c.ink : c.ink, { turn, tag: p.tag });
      if (p.face === "door") { // what a hand touches, before the sheet
        const wide = Math.min(p.size[0], p.size[1], 34) * 0.8;
        put([p.at[0] + (p.size[0] - wide) / 2, p.at[1] + (p.size[1] - wide) / 2, d], [wide, wide, 14], colour, 1, c.ink, { turn, tag: p.tag });
      }
      const a = p.air;
      if (this.air && a.some(Boolean)) {
        put([p.at[0] - a[0], p.at[1] - a[2], p.at[2] - a[4]], [p.size[0] + a[0] + a[1], p.size[1] + a[2] + a[3], p.size[2] + a[4] + a[5]], c.touch, chosen ? 0.2 : 0.1, chosen ? c.touch : null, { turn, glass: true });
      }
    }
    return list;
  }

  paint() {
    const { gl, canvas, uniform } = this;
    const dots = Math.min(devicePixelRatio || 1, 2);
    const [wide, high] = [Math.round(canvas.clientWidth * dots), Math.round(canvas.clientHeight * dots)];
    if (!wide || !high) return;
    if (canvas.width !== wide || canvas.height !== high) [canvas.width, canvas.height] = [wide, high];
    gl.viewport(0, 0, wide, high);
    gl.clearColor(0, 0, 0, 0);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const eye = this.eye();
    gl.uniformMatrix4fv(uniform.seen, false, eye.seen);
    const list = this.blocks();
    this.drawn = { eye, list };
    const far = (b) => times(eye.turned, times(b.model, [0.5, 0.5, 0.5]).slice(0, 3))[2];
    const fill = (b) => {
      gl.uniformMatrix4fv(uniform.model, false, b.model);
      gl.uniform1f(uniform.flat_, 0);
      gl.uniform4f(uniform.colour, ...b.colour, b.alpha);
      gl.drawArrays(gl.TRIANGLES, 0, 36);
    };
    const edge = (b, alpha) => {
      if (!b.edge) return;
      gl.uniformMatrix4fv(uniform.model, false, b.model);
      gl.uniform1f(uniform.flat_, 1);
      gl.uniform4f(uniform.colour, ...b.edge, alpha);
      gl.drawArrays(gl.LINES, 36, 24);
    };
    for (const b of list) if (b.alpha === 1) { fill(b); edge(b, 1); }
    gl.depthMask(false); // glass hides nothing; the farthest first
    for (const b of list.filter((b) => b.alpha < 1).sort((a, b) => far(a) - far(b))) { fill(b); edge(b, 0.8); }
    this.label(eye);
    this.painted = (this.painted ?? 0) + 1;
  }

  // label writes tags over the parts: the chosen one first, then the nearest; none over another.
  label(eye) {
    const [wide, high] = [this.canvas.clientWidth, this.canvas.clientHeight];
    const door = this.doorTurn();
    const spots = this.state.parts.map((p) => {
      const front = [p.at[0] + p.size[0] / 2, p.at[1] + p.size[1] / 2, p.at[2] + p.size[2]];
      const at = times(p.face === "door" ? door : still, front).slice(0, 3);
      const [x, y, , w] = times(eye.seen, at);
      return { p, x: ((x / w + 1) / 2) * wide, y: ((1 - y / w) / 2) * high, w };
    });
    spots.sort((a, b) => (b.p.tag === this.chosen) - (a.p.tag === this.chosen) || a.w - b.w);
    const taken = [];
    const spans = [];
    for (const s of spots) {
      const half = 5 + s.p.tag.length * 4;
      if (taken.some((t) => Math.abs(t.x - s.x) < t.half + half && Math.abs(t.y - s.y) < 19)) continue;
      taken.push({ x: s.x, y: s.y, half });
      const span = document.createElement("span");
      span.textContent = s.p.tag;
      span.className = (s.p.tag === this.chosen ? "chosen " : "") + (s.p.clashes ? "clash" : "");
      span.style.transform = `translate(${s.x.toFixed(1)}px, ${s.y.toFixed(1)}px) translate(-50%, -50%)`;
      spans.push(span);
    }
    this.tags.replaceChildren(...spans);
  }

  // at returns the tag of the part that stands nearest under a point of the screen; "" if none does.
  at(clientX, clientY) {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const [x, y] = [((clientX - left) / width) * 2 - 1, 1 - ((clientY - top) / height) * 2];
    let best = { tag: "", w: Infinity };
    for (const b of this.drawn?.list ?? []) {
      if (!b.tag) continue;
      // Each face of the block as it is seen is a quadrangle: is the point in one?
      const m = product(this.drawn.eye.seen, b.model);
      for (const axis of [0, 1, 2]) for (const side of [0, 1]) {
        const corners = [[0, 0], [1, 0], [1, 1], [0, 1]].map(([p, q]) => { const c = [0, 0, 0]; c[axis] = side; c[(axis + 1) % 3] = p; c[(axis + 2) % 3] = q; return times(m, c); });
        const near = Math.min(...corners.map((c) => c[3]));
        if (near <= 0 || near >= best.w) continue;
        const turns = corners.map((c, n) => {
          const e = corners[(n + 1) % 4];
          return Math.sign((e[0] / e[3] - c[0] / c[3]) * (y - c[1] / c[3]) - (e[1] / e[3] - c[1] / c[3]) * (x - c[0] / c[3]));
        });
        if (turns.every((t) => t >= 0) || turns.every((t) => t <= 0)) best = { tag: b.tag, w: near };
      }
    }
    return best.tag;
  }

  turn(right, down) {
    const bound = Math.PI / 2;
    this.set({ looks: [this.looks[0] + right, Math.max(-bound, Math.min(bound, this.looks[1] + down))] });
  }

  nearer(by) {
    this.set({ zoom: Math.max(0.4, Math.min(6, this.zoom * by)) });
  }

  // look looks from where an open door shows its inside.
  look(name) {
    const [about, down] = looks[name];
    this.set({ looks: [this.state?.hinge === "right" ? -about : about, down], zoom: 1 });
  }

  // hands: one finger turns, two bring nearer, a touch that doesn't move chooses.
  hands() {
    const { canvas } = this;
    const down = new Map();
    let still_ = true, spread = 0;
    const apart = () => { const [a, b] = [...down.values()]; return Math.hypot(a[0] - b[0], a[1] - b[1]); };
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      down.set(event.pointerId, [event.clientX, event.clientY]);
      still_ = down.size === 1;
      if (down.size === 2) spread = apart();
    });
    canvas.addEventListener("pointermove", (event) => {
      const was = down.get(event.pointerId);
      if (!was) return;
      const [dx, dy] = [event.clientX - was[0], event.clientY - was[1]];
      if (still_ && Math.hypot(dx, dy) < 4) return; // a finger is never quite still
      still_ = false;
      down.set(event.pointerId, [event.clientX, event.clientY]);
      if (down.size === 1) this.turn(dx * 0.008, dy * 0.008);
      else if (down.size === 2) {
        this.nearer(apart() / spread);
        spread = apart();
      }
    });
    for (const over of ["pointerup", "pointercancel"]) canvas.addEventListener(over, (event) => {
      if (down.delete(event.pointerId) && over === "pointerup" && still_ && !down.size) this.pick(this.at(event.clientX, event.clientY));
    });
    canvas.addEventListener("wheel", (event) => {
      event.preventDefault();
      this.nearer(Math.exp(-event.deltaY * 0.0015));
    }, { passive: false });
    canvas.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, -0.12], ArrowDown: [0, 0.12] }[event.key];
      if (way) this.turn(...way);
      else if (event.key === "+" || event.key === "=") this.nearer(1.15);
      else if (event.key === "-") this.nearer(1 / 1.15);
      else return;
      event.preventDefault();
    });
  }
}
