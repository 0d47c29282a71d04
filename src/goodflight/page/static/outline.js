// A field's outline drawn on a blank grid of metres: the pad in the middle, north up. What is drawn
// stands in the box as corners, so nothing but the box is sent.
// Pointer: tap for a corner, drag one to move it. Keys: arrows move the cross (Shift: five times as
// far), Enter sets a corner, Backspace takes the last one back, + and - change the scale.
const NS = "http://www.w3.org/2000/svg", SIDE = 400, MIDDLE = SIDE / 2;
const SCALES = [[100, 10], [250, 25], [500, 50], [1000, 100], [2500, 250], [5000, 500]]; // half a side, grid [m]
const PAIR = /^\(?\s*([-+−]?[\d.]+)\s*m?[\s,]+([-+−]?[\d.]+)\s*m?\s*\)?$/;
const mark = (name, more) => { const el = document.createElementNS(NS, name); for (const [k, v] of Object.entries(more)) el.setAttribute(k, v); return el; };

function cornersIn(text) {
  const found = text.split(/[;\n]/).map((each) => PAIR.exec(each.trim())).filter(Boolean);
  return found.map((m) => [+m[1].replace("−", "-"), +m[2].replace("−", "-")]);
}

class Board {
  constructor(box) {
    this.box = box; this.corners = cornersIn(box.value); this.at = [0, 0]; this.held = -1;
    const far = Math.max(0, ...this.corners.flat().map(Math.abs));
    this.scale = Math.max(2, SCALES.findIndex(([half]) => half >= far));
    this.svg = mark("svg", { viewBox: `0 0 ${SIDE} ${SIDE}`, class: "board", tabindex: "0", role: "application" });
    this.said = document.createElement("p"); this.said.className = "soft"; this.said.setAttribute("role", "status");
    const acts = document.createElement("p"); acts.className = "acts";
    for (const [words, act] of [["last corner back", () => this.corners.pop()], ["larger field", () => this.zoom(1)], ["smaller field", () => this.zoom(-1)]]) {
      const button = document.createElement("button"); button.type = "button"; button.textContent = words;
      button.addEventListener("click", () => { act(); this.write(); }); acts.append(button);
    }
    const whole = document.createElement("div"); whole.className = "drawn-outline"; whole.append(this.svg, acts, this.said);
    box.after(whole);
    this.svg.addEventListener("pointerdown", (e) => this.down(e));
    this.svg.addEventListener("pointermove", (e) => this.move(e));
    this.svg.addEventListener("pointerup", () => { this.held = -1; });
    this.svg.addEventListener("keydown", (e) => this.key(e));
    box.addEventListener("input", () => { this.corners = cornersIn(box.value); this.draw(); });
    this.draw();
  }
  get half() { return SCALES[this.scale][0]; }
  get grid() { return SCALES[this.scale][1]; }
  zoom(by) { this.scale = Math.min(SCALES.length - 1, Math.max(0, this.scale + by)); }
  place([east, north]) { return [MIDDLE + east / this.half * MIDDLE, MIDDLE - north / this.half * MIDDLE]; }
  metres(e) {
    const r = this.svg.getBoundingClientRect(), step = this.grid / 5;
    const raw = [((e.clientX - r.left) / r.width * 2 - 1) * this.half, (1 - (e.clientY - r.top) / r.height * 2) * this.half];
    return raw.map((x) => Math.round(x / step) * step);
  }
  down(e) {
    const r = this.svg.getBoundingClientRect(), x = (e.clientX - r.left) / r.width * SIDE, y = (e.clientY - r.top) / r.height * SIDE;
    this.held = this.corners.findIndex((c) => { const p = this.place(c); return Math.hypot(p[0] - x, p[1] - y) < 14; });
    this.at = this.metres(e);
    if (this.held < 0) this.held = this.corners.push(this.at) - 1;
    this.svg.setPointerCapture(e.pointerId); e.preventDefault(); this.svg.focus(); this.write();
  }
  move(e) { if (this.held >= 0) { this.at = this.corners[this.held] = this.metres(e); this.write(); } }
  key(e) {
    const far = this.grid / 5 * (e.shiftKey ? 5 : 1), way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (way) this.at = this.at.map((x, i) => Math.max(-this.half, Math.min(this.half, x + way[i] * far)));
    else if (e.key === "Enter") this.corners.push([...this.at]);
    else if (e.key === "Backspace" || e.key === "Delete") this.corners.pop();
    else if (e.key === "+" || e.key === "-") this.zoom(e.key === "-" ? 1 : -1);
    else return;
    e.preventDefault(); this.write();
  }
  write() {
    this.box.value = this.corners.map((c) => c.join(" ")).join("; ");
    this.box.form.dataset.unsaved = ""; this.draw();
  }
  draw() {
    this.svg.replaceChildren();
    let lines = "";
    for (let m = -this.half; m <= this.half + 0.1; m += this.grid) { const [x, y] = this.place([m, m]); lines += `M${x} 0V${SIDE}M0 ${y}H${SIDE}`; }
    this.svg.append(mark("path", { d: lines, class: "thin" }), mark("path", { d: `M${MIDDLE - 9} ${MIDDLE}h18M${MIDDLE} ${MIDDLE - 9}v18`, class: "pad" }));
    for (const [text, x, y] of [["N", MIDDLE + 5, 14], ["pad", MIDDLE + 6, MIDDLE - 6], [`${this.half} m`, SIDE - 46, MIDDLE - 5]]) {
      const el = mark("text", { x, y }); el.textContent = text; this.svg.append(el);
    }
    const points = this.corners.map((c) => this.place(c));
    if (points.length > 1) this.svg.append(mark("path", { d: "M" + points.map((p) => p.join(" ")).join("L") + (points.length > 2 ? "Z" : ""), class: "ring" }));
    for (const [x, y] of points) this.svg.append(mark("circle", { cx: x, cy: y, r: 6, class: "corner" }));
    const [x, y] = this.place(this.at);
    this.svg.append(mark("path", { d: `M${x - 6} ${y}h12M${x} ${y - 6}v12`, class: "cross" }));
    const side = (v, plus, minus) => `${Math.abs(v)} m ${v < 0 ? minus : plus}`;
    this.said.textContent = `${this.corners.length} corners; a square is ${this.grid} m; at ${side(this.at[0], "east", "west")}, ${side(this.at[1], "north", "south")} of the pad`;
    this.svg.setAttribute("aria-label", `field on a grid: arrow keys move, Enter sets a corner, Backspace takes the last back; ${this.said.textContent}`);
  }
}

document.addEventListener("click", (e) => {
  const button = e.target.closest("[data-draw]");
  if (!button) return;
  const box = document.getElementById(button.dataset.draw);
  button.hidden = true;
  new Board(box).svg.focus();
});
