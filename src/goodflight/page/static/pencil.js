// The pencil: what is tried answers while it is moved, then with all draws once it rests.
import { $, body, data, narrow } from "./common.js";
import { fly, follow } from "./curves.js";
import { reopen } from "./rows.js";

window.goodflight = { moves: [] };
const pencil = $("pencil");
const parse = (input) => ({ ids: JSON.parse(input.dataset.ids), labels: JSON.parse(input.dataset.labels) });
export function settings() {
  if (!pencil) return {};
  const found = {};
  for (const input of pencil.querySelectorAll("input[type=range],select,#try-also")) {
    const key = input.id.slice(4);
    if (input.value !== input.dataset.now) found[key] = input.type === "range" ? parse(input).ids[input.value] : input.value;
  }
  return found;
}
export function query(more) {
  const q = new URLSearchParams();
  if (data.plan) q.set("plan", data.plan);
  for (const [k, v] of Object.entries(settings())) q.set(k, v);
  for (const kept of ["order", "draw"]) {
    const value = new URLSearchParams(location.search).get(kept);
    if (value) q.set(kept, value);
  }
  for (const [k, v] of Object.entries(more || {})) q.set(k, v);
  return q.toString();
}
const DRAGGED_MS = 200, RESTED_MS = 550;
let moving = false, again = null, last = -1e9, pause = 0, rest = 0, stream = null;
const say = (words) => { const p = $("working"); if (p) p.textContent = words; body.classList.toggle("busy", !!words); };
function mark(input) {
  const row = input.closest(".control"), changed = input.value !== input.dataset.now;
  row.classList.toggle("changed", changed);
  if (input.type !== "range") { row.querySelector(".old").textContent = changed ? "was " + input.dataset.now : ""; return; }
  const { labels } = parse(input);
  row.querySelector("output").textContent = labels[input.value];
  row.querySelector(".old").textContent = changed ? "was " + labels[input.dataset.now] : "";
  input.setAttribute("aria-valuetext", labels[input.value]);
}
// Morphing keeps the focus, opened rows and folds; only what differs is touched.
const put = (parts) => Promise.all(Object.entries(parts).filter(([id]) => $(id)).map(([id, html]) =>
  htmx.swap({ target: $(id), text: html, swap: "innerMorph", sourceElement: body })));
// One question at a time; what is moved meanwhile is asked as soon as the answer is shown.
async function move(start, more) {
  if (moving) { again = { start: again ? again.start : start, more: { ...(again && again.more), ...more } }; return; }
  moving = true;
  try {
    const answer = await fetch("/moved?" + query({ tab: data.tab, on: data.sheet, ...more }));
    if (!answer.ok) throw new Error(await answer.text());
    const got = await answer.json();
    if (got.fault) { say(got.fault); return; }
    await put(got.parts); follow(got.curve);
    requestAnimationFrame(() => setTimeout(() => {
      const took = performance.now() - start;
      window.goodflight.moves.push(took);
      data.latency = took.toFixed(0);
    }));
  } catch (error) { say("The server did not answer: " + error.message.slice(0, 200)); }
  finally { moving = false; if (again) { const next = again; again = null; move(next.start, next.more); } }
}
function settle() {
  if (stream) stream.close();
  say("flying all draws");
  stream = new EventSource("/settled?" + query({ tab: data.tab, on: data.sheet }));
  stream.addEventListener("progress", (e) => { const d = JSON.parse(e.data); say(`${d.what}, ${Math.round(d.share * 100)} %`); });
  stream.addEventListener("done", async (e) => {
    stream.close(); say("");
    const got = JSON.parse(e.data);
    await put(got.parts); follow(got.curve); reopen();
    const desk = document.querySelector(".desk"); if (desk) desk.dataset.full = "yes";
  });
  stream.addEventListener("fault", (e) => { stream.close(); say(JSON.parse(e.data).words); });
  stream.addEventListener("superseded", () => { stream.close(); say(""); });
  stream.onerror = () => { stream.close(); say(""); };
}
function moved(input, controls) {
  mark(input);
  if (stream) stream.close();
  clearTimeout(rest);
  const desk = document.querySelector(".desk"); if (desk) desk.dataset.full = "no";
  const now = performance.now(), dragged = now - last < DRAGGED_MS;
  last = now;
  clearTimeout(pause);
  move(now, { ...(controls && { controls: 1 }), ...(dragged && { few: 1 }) });
  if (dragged) pause = setTimeout(() => move(performance.now(), {}), DRAGGED_MS);
  const q = query();
  history.replaceState(null, "", location.pathname + (q ? "?" + q : ""));
  for (const a of document.querySelectorAll("a[data-keep]")) a.href = a.dataset.keep + (q ? "?" + q : "");
  rest = setTimeout(() => { settle(); if (data.sheet === "flight") fly(); }, RESTED_MS);
}
if (pencil) {
  if (narrow.matches) pencil.closest("details").open = Object.keys(settings()).length > 0;
  pencil.addEventListener("input", (e) => { if (e.target.type === "range") moved(e.target, false); });
  pencil.addEventListener("change", (e) => { if (e.target.tagName === "SELECT") moved(e.target, true); });
  pencil.addEventListener("submit", (e) => e.preventDefault());
  const desk = document.querySelector(".desk");
  if (desk && desk.dataset.full === "no") settle();
  if (data.sheet === "ledger") fetch("/height?" + query()).then((r) => (r.ok ? r.json() : null)).then(follow, () => null);
}
