// The reading at the crosshair: in words and units, at the pointer, by arrow keys, and aloud.
import { $ } from "./common.js";

const known = (v) => v !== null && v !== undefined;
const figure = (v) => { const n = Math.abs(v) >= 100 ? v.toFixed(0) : String(Number(v.toPrecision(3))); return Number(n) === 0 ? "0" : n.replace("-", "\u2212"); };
export function words(u, i, lines, every) {
  const unit = u.curve.unit, end = u.data.length;
  const [low, middle, high] = [6, 5, 4].map((n) => u.data[end - n][i]);
  const [planned, tried, flight] = [3, 2, 1].map((n) => u.data[end - n][i]);
  const parts = [];
  if (known(middle)) parts.push(`${figure(middle)} ${unit}, 9 in 10 between ${figure(low)} and ${figure(high)}`);
  if (lines.tried && known(tried)) parts.push(`what-if ${figure(tried)} ${unit}`);
  if (lines.planned && known(planned)) parts.push(`as planned ${figure(planned)} ${unit}`);
  if (lines.flight && known(flight)) parts.push(`flight ${lines.number}: ${figure(flight)} ${unit}`);
  return `${(i * every).toFixed(1)} s: ${parts.join("; ") || "no value here"}`;
}
export function reading(u, lines, every) {
  const i = u.cursor.idx, box = u.root.closest(".chart");
  let at = box.querySelector(".reading");
  if (!at) { at = document.createElement("div"); at.className = "reading num"; at.setAttribute("aria-hidden", "true"); u.over.append(at); }
  const on = known(i) && u.cursor.left >= 0;
  at.hidden = !on;
  if (!on) return;
  const said = words(u, i, lines, every);
  at.textContent = said;
  const right = u.cursor.left > u.over.clientWidth / 2;
  at.style.left = right ? "" : `${u.cursor.left + 8}px`;
  at.style.right = right ? `${u.over.clientWidth - u.cursor.left + 8}px` : "";
  at.style.maxWidth = `${(right ? u.cursor.left : u.over.clientWidth - u.cursor.left) - 10}px`;
  if (box === document.activeElement) aloud(box, u, i, every, said);
}
let later = 0;
function aloud(box, u, i, every, said) {
  const time = `${(i * every).toFixed(1)} s`;
  box.setAttribute("aria-valuemax", u.data[0][u.data[0].length - 1]);
  box.setAttribute("aria-valuenow", u.data[0][i]); box.setAttribute("aria-valuetext", time);
  clearTimeout(later); later = setTimeout(() => { $("reading").textContent = said; }, 150);
}
const STEPS = { ArrowLeft: -1, ArrowRight: 1, ArrowDown: -1, ArrowUp: 1, PageDown: -10, PageUp: 10 };
export function keys(e, u) {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const last = u.data[0].length - 1, { min, max } = u.scales.x, x = u.data[0];
  const least = x.findIndex((t) => t >= min - 1e-9), most = last - [...x].reverse().findIndex((t) => t <= max + 1e-9);
  let i = u.cursor.left >= 0 && known(u.cursor.idx) ? u.cursor.idx : null;
  if (e.key in STEPS) i = i === null ? least : i + STEPS[e.key] * (e.shiftKey ? 10 : 1);
  else if (e.key === "Home") i = least;
  else if (e.key === "End") i = most;
  else if (e.key === "Escape") { u.setCursor({ left: -10, top: -10 }, true, true); return; }
  else if (e.key === "+" || e.key === "-" || e.key === "0") { closer(u, e.key, i); return; }
  else return;
  e.preventDefault();
  i = Math.min(Math.max(i, least), most);
  u.setCursor({ left: u.valToPos(x[i], "x"), top: u.over.clientHeight / 3 }, true, true);
}
function closer(u, key, i) {
  const x = u.data[0], whole = x[x.length - 1], { min, max } = u.scales.x;
  const middle = i === null ? (min + max) / 2 : x[i], half = ((max - min) / 2) * (key === "+" ? 0.5 : 2);
  const to = key === "0" ? { min: 0, max: whole } : { min: Math.max(0, middle - half), max: Math.min(whole, middle + half) };
  for (const other of uPlot.sync("flight").plots) other.setScale("x", to);
}
