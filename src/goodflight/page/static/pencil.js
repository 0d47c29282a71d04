// The pencil: what is tried answers while it is moved, then with all draws once it rests.
import { $, body, data, narrow } from "./common.js";
import { fly, height } from "./curves.js";
import { link, reopen } from "./rows.js";

window.goodflight = { moves: [] };
const pencil = $("pencil");
const parse = (input) => ({ ids: JSON.parse(input.dataset.ids), labels: JSON.parse(input.dataset.labels) });
export function settings() {
  if (!pencil) return {};
  const found = {};
  for (const input of pencil.querySelectorAll("input[type=range],select")) {
    const key = input.id.slice(4);
    if (input.value !== input.dataset.now) found[key] = input.type === "range" ? parse(input).ids[input.value] : input.value;
  }
  return found;
}
export function query(more) {
  const q = new URLSearchParams();
  if (data.plan) q.set("plan", data.plan);
  for (const [k, v] of Object.entries(settings())) q.set(k, v);
  const order = new URLSearchParams(location.search).get("order");
  if (order) q.set("order", order);
  for (const [k, v] of Object.entries(more || {})) q.set(k, v);
  return q.toString();
}
let moving = null, again = 0, rest = 0, stream = null;
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
function put(parts) {
  const open = new Map(), focus = document.activeElement && document.activeElement.id;
  const focusWhy = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.why : null;
  for (const why of document.querySelectorAll(".why:not(:empty)")) open.set(why.id, [...why.childNodes]);
  for (const [id, html] of Object.entries(parts)) { const el = $(id); if (el) el.innerHTML = html; }
  for (const [id, nodes] of open) {
    const why = $(id);
    if (why) { why.replaceChildren(...nodes); link(id.slice(4))?.setAttribute("aria-expanded", "true"); }
  }
  if (focus && $(focus) && document.activeElement !== $(focus)) $(focus).focus({ preventScroll: true });
  else if (focusWhy) link(focusWhy)?.focus({ preventScroll: true });
}
async function move(start, controls) {
  if (moving) { again = again || start; return; }
  moving = new AbortController();
  try {
    const answer = await fetch("/moved?" + query({ tab: data.tab, on: data.sheet, ...(controls ? { controls: 1 } : {}) }), { signal: moving.signal });
    if (!answer.ok) throw new Error(await answer.text());
    const got = await answer.json();
    if (got.fault) { say(got.fault); return; }
    put(got.parts); height(got.curve);
    requestAnimationFrame(() => {
      const took = performance.now() - start;
      window.goodflight.moves.push(took);
      data.latency = took.toFixed(0);
    });
  } catch (error) { if (error.name !== "AbortError") say("The server did not answer: " + error.message.slice(0, 200)); }
  finally { moving = null; if (again) { const since = again; again = 0; move(since); } }
}
function settle() {
  if (stream) stream.close();
  say("flying all draws");
  stream = new EventSource("/settled?" + query({ tab: data.tab, on: data.sheet }));
  stream.addEventListener("progress", (e) => { const d = JSON.parse(e.data); say(`${d.what}, ${Math.round(d.share * 100)} %`); });
  stream.addEventListener("done", (e) => {
    stream.close(); say("");
    const got = JSON.parse(e.data);
    put(got.parts); height(got.curve); reopen();
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
  move(performance.now(), controls);
  const q = query();
  history.replaceState(null, "", location.pathname + (q ? "?" + q : ""));
  for (const a of document.querySelectorAll("a[data-keep]")) a.href = a.dataset.keep + (q ? "?" + q : "");
  rest = setTimeout(() => { settle(); if (data.sheet === "flight") fly(); }, 550);
}
if (pencil) {
  if (narrow.matches) pencil.closest("details").open = Object.keys(settings()).length > 0;
  pencil.addEventListener("input", (e) => { if (e.target.type === "range") moved(e.target, false); });
  pencil.addEventListener("change", (e) => { if (e.target.tagName === "SELECT") moved(e.target, true); });
  pencil.addEventListener("submit", (e) => e.preventDefault());
  const desk = document.querySelector(".desk");
  if (desk && desk.dataset.full === "no") settle();
  if (data.sheet === "ledger") fetch("/height?" + query()).then((r) => (r.ok ? r.json() : null)).then(height, () => null);
}
