// The charts of the flight page: bands, single flights, what is tried, one flight; with a reading.
import { $, ink, root } from "./common.js";
import { names } from "./names.js";
import { reading, keys } from "./reading.js";

export const size = () => parseFloat(getComputedStyle(root).fontSize) * 0.75;
const font = () => `${size().toFixed(1)}px "Source Sans 3"`;
export const seconds = (_u, v) => v.map((n, i) => (i === v.length - 1 ? `${n} s` : n));
export const axis = (extra) => ({
  stroke: () => ink("soft"), font: font(), gap: 3,
  grid: { stroke: () => ink("faint"), width: 1 }, ticks: { stroke: () => ink("fine"), width: 1, size: 4 }, ...extra,
});
// Call `again` whenever the inks may have changed: another light, the system's dark, paper.
export function keepInk(again) {
  new MutationObserver(again).observe(root, { attributes: true, attributeFilter: ["data-mode"] });
  for (const query of ["(prefers-color-scheme: dark)", "print"]) matchMedia(query).addEventListener("change", again);
}
let record = null, way = "close", charts = [], pick = () => null;
const lines = { planned: null, tried: null, flight: null, number: 0 };
export const onPick = (act) => { pick = act; };
const curves = () => record.curves.filter((c) => c[way]);
function moments() {
  const first = curves()[0];
  let count = first[way].edges[0].length;
  for (const key of ["planned", "tried", "flight"]) if (lines[key]) count = Math.max(count, lines[key][way][first.name].length);
  return count;
}
const laid = (values, count) => (values && values.length === count ? values : Array.from({ length: count }, (_, i) => values?.[i] ?? null));
function table(curve, count) {
  const every = record.every_s[way], { edges, flights } = curve[way];
  const x = Array.from({ length: count }, (_, i) => Math.round(i * every * 1000) / 1000);
  const more = ["planned", "tried", "flight"].map((key) => lines[key]?.[way][curve.name]);
  return [x, ...[...flights, ...edges, ...more].map((values) => laid(values, count))];
}
const line = (stroke, width, more) => ({ stroke: () => ink(stroke), width, points: { show: false }, ...more });
const heavier = () => (root.dataset.mode === "sun" ? 1.5 : 1);
function events() {
  const shown = lines.tried || record.middle;
  return shown.events.filter((e) => way === "whole" || e.words !== "on the ground");
}
const marks = { hooks: { draw: (u) => {
  const { ctx, bbox } = u, across = (t) => u.valToPos(t, "x", true);
  ctx.save(); ctx.beginPath(); ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height); ctx.clip();
  ctx.setLineDash([3, 3]); ctx.lineWidth = devicePixelRatio;
  ctx.strokeStyle = ink(lines.tried ? "tried" : "fine");
  for (const e of events()) { ctx.beginPath(); ctx.moveTo(across(e.time_s), bbox.top); ctx.lineTo(across(e.time_s), bbox.top + bbox.height); ctx.stroke(); }
  if (lines.flight) dots(u, ctx, across);
  if (lines.planned && u === charts[0]) named(u, ctx, "as planned");
  ctx.restore();
} } };
function dots(u, ctx, across) {
  const values = u.data[u.data.length - 1], every = record.every_s[way];
  ctx.fillStyle = ink("ink");
  for (const e of lines.flight.events) {
    const y = values[Math.round(e.time_s / every)];
    if (y === null || y === undefined) continue;
    ctx.beginPath(); ctx.arc(across(e.time_s), u.valToPos(y, "y", true), 3.2 * devicePixelRatio, 0, 7); ctx.fill();
  }
}
function named(u, ctx, words) {
  const values = u.data[u.data.length - 3], x = u.data[0];
  let i = values.length - 1;
  while (i > 0 && (values[i] === null || x[i] > u.scales.x.max)) i -= 1;
  ctx.fillStyle = ink("tried"); ctx.textAlign = "right";
  ctx.font = `${size() * devicePixelRatio}px "Source Sans 3"`;
  ctx.fillText(words, u.valToPos(x[i], "x", true) - 4, u.valToPos(values[i], "y", true) + 15 * devicePixelRatio);
}
function chart(curve, at, last, count) {
  const box = document.createElement("div"); box.className = "chart";
  const head = document.createElement("h2"); head.textContent = `${curve.words}, ${curve.unit}`; box.append(head); at.append(box);
  const thin = curve[way].flights.map(() => line("fine", 0.5 * heavier(), { alpha: 0.45 }));
  const u = new uPlot({
    width: at.clientWidth, height: (curve.name === "up_m" ? 220 : 132) + (last ? 22 : 0), legend: { show: false },
    padding: [5, 14, 0, 0], cursor: { sync: { key: "flight" }, focus: { prox: 8 }, points: { show: false }, y: false }, focus: { alpha: 1 },
    scales: { x: { time: false, range: (_u, low, high) => [low, high] } },
    axes: [axis(last ? { size: 26, values: seconds } : { size: 5, values: (_u, v) => v.map(() => "") }), axis({ size: 52 })],
    bands: [{ series: [thin.length + 3, thin.length + 1], fill: () => tint("fine", 0.26) }],
    series: [{}, ...thin, line("fine", 1), line("ink", 2.2), line("fine", 1), line("tried", 1), line("tried", 2, { dash: [7, 4] }), line("ink", 2, { dash: [11, 3, 2, 3] })],
    plugins: [marks],
    hooks: { setScale: [(v, key) => { if (key === "x" && v === charts[0]) names(v, events(), Boolean(lines.tried)); }], setCursor: [(v) => read(v)] },
  }, table(curve, count), box);
  u.curve = curve; u.root.dataset.curve = curve.name;
  u.over.addEventListener("click", () => { const i = focused(u); if (i) pick(i); });
  box.tabIndex = 0; box.setAttribute("role", "slider");
  box.setAttribute("aria-label", `${curve.words} against time`); box.setAttribute("aria-valuetext", "read it with the arrow keys");
  box.setAttribute("aria-valuemin", "0"); box.setAttribute("aria-valuenow", "0");
  box.addEventListener("keydown", (e) => keys(e, u));
  return u;
}
const focused = (u) => Math.max(0, u.series.findIndex((s, n) => n > 0 && n <= u.curve[way].flights.length && s._focus));
function tint(name, share) {
  const hex = ink(name).replace("#", ""), full = hex.length === 3 ? [...hex].map((c) => c + c).join("") : hex;
  const [r, g, b] = [0, 2, 4].map((i) => parseInt(full.slice(i, i + 2), 16));
  return Number.isNaN(r + g + b) ? "transparent" : `rgba(${r},${g},${b},${share})`;
}
function read(u) { if (charts.length) reading(u, lines, record.every_s[way]); }
function build() {
  const at = $("curves"), focus = document.activeElement?.closest?.(".chart")?.querySelector(".uplot")?.dataset.curve;
  for (const u of charts) u.destroy();
  at.querySelectorAll(".chart").forEach((c) => c.remove());
  const count = moments(), shown = curves();
  charts = [];
  for (const curve of shown) charts.push(chart(curve, at, curve === shown[shown.length - 1], count));
  for (const u of charts) u.redraw(false);
  names(charts[0], events(), Boolean(lines.tried));
  if (focus) charts.find((u) => u.curve.name === focus)?.root.closest(".chart").focus({ preventScroll: true });
}
function fill() {
  const count = moments();
  const zoom = charts[0].data[0].length === count ? { ...charts[0].scales.x } : null;
  for (const u of charts) {
    u.batch(() => {
      u.setData(table(u.curve, count), true);
      if (zoom) u.setScale("x", { min: zoom.min, max: zoom.max });
    });
  }
  names(charts[0], events(), Boolean(lines.tried));
}
// New bands; the line tried has become them.
export function draw(bands, planned) {
  const first = !record;
  record = bands; lines.planned = planned; lines.tried = null;
  build();
  if (first) watch();
}
// Lines over the bands: what is tried, one flight.
export function show(found) {
  Object.assign(lines, found);
  if (record) fill();
}
export function reach(to) { way = to; if (record) build(); }
function fit(width) {
  for (const u of charts) u.setSize({ width, height: u.height });
  if (charts.length) names(charts[0], events(), Boolean(lines.tried));
}
const PAPER = 660; // width of a sheet of paper within its margins
function watch() {
  const at = $("curves"), box = $("times_box");
  const again = () => { for (const u of charts) u.redraw(false); };
  new ResizeObserver(() => { if (!matchMedia("print").matches && at.clientWidth !== charts[0].width) fit(at.clientWidth); }).observe(at);
  keepInk(again);
  let open = false;
  addEventListener("beforeprint", () => { open = box.open; box.open = true; fit(Math.min(PAPER, at.clientWidth)); });
  addEventListener("afterprint", () => { box.open = open; fit(at.clientWidth); });
}
