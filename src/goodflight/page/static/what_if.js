// What if: what is tried answers while it is moved, then with all flights once it rests.
import { $, body, data, narrow } from "./common.js";
import { fly, follow } from "./curves.js";
import { progress, stopWork } from "./progress.js";
import { reopen } from "./rows.js";

window.goodflight = { moves: [] };
const form = $("what_if");
const parse = (input) => ({ ids: JSON.parse(input.dataset.ids), labels: JSON.parse(input.dataset.labels) });
export function settings() {
  if (!form) return {};
  const found = {};
  for (const input of form.querySelectorAll("input[type=range],select,input.beside")) {
    const key = input.id.slice(4);
    if (input.value !== input.dataset.now) found[key] = input.type === "range" ? parse(input).ids[input.value] : input.value;
  }
  return found;
}
export function query(more) {
  const q = new URLSearchParams();
  if (data.plan) q.set("plan", data.plan);
  for (const [k, v] of Object.entries(settings())) q.set(k, v);
  for (const kept of ["order", "number"]) {
    const value = new URLSearchParams(location.search).get(kept);
    if (value) q.set(kept, value);
  }
  for (const [k, v] of Object.entries(more || {})) q.set(k, v);
  return q.toString();
}
const DRAGGED_MS = 200, RESTED_MS = 550;
let asking = false, again = null, last = -1e9, pause = 0, rest = 0, stream = null, shown = Promise.resolve(), resting = true;
function say(what, share = null, stop = null) { progress($("working"), what, share, stop); body.classList.toggle("busy", share !== null); }
const page = document.querySelector(".columns");
const full = (on) => { if (page) page.dataset.full = on ? "yes" : "no"; };
const complete = () => Boolean(page) && page.dataset.full === "yes"; // what comes late has nothing to add
function mark(input) {
  const row = input.closest(".control"), changed = input.value !== input.dataset.now;
  row.classList.toggle("changed", changed);
  if (input.type !== "range") { row.querySelector(".old").textContent = changed ? "was " + input.dataset.now : ""; return; }
  const { labels } = parse(input);
  row.querySelector("output").textContent = labels[input.value];
  row.querySelector(".old").textContent = changed ? "was " + labels[input.dataset.now] : "";
  input.setAttribute("aria-valuetext", labels[input.value]);
}
// Morphing keeps the focus, opened rows and folds; only what differs is touched. While something
// moves, the rows inside closed folds are not sent, and what is there is left as it is.
const shut = () => [...document.querySelectorAll("details.stand:not([open])")].map((fold) => fold.id).join(" ");
async function put(got, whole) {
  htmx.config.morphSkipChildren = whole ? null : "details.stand:not([open]) > .inside";
  await Promise.all(Object.entries(got.parts).filter(([id]) => $(id)).map(([id, html]) =>
    htmx.swap({ target: $(id), text: html, swap: "innerMorph", sourceElement: body })));
  follow(got.curve);
}
const answered = (start) => requestAnimationFrame(() => setTimeout(() => {
  const took = performance.now() - start;
  window.goodflight.moves.push(took);
  data.latency = took.toFixed(0);
}));
async function ask(more) {
  const answer = await fetch("/moved?" + query({ tab: data.tab, on: data.page, shut: shut(), ...more }));
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}
// One question at a time; what is moved meanwhile is asked while the answer is being shown.
async function move(start, more) {
  if (asking) { again = { start: again ? again.start : start, more: { ...(again && again.more), ...more } }; return; }
  asking = true;
  let got;
  try { got = await ask(more); } catch (error) { got = { fault: "The server did not answer: " + error.message.slice(0, 200) }; }
  asking = false;
  if (again) { const next = again; again = null; move(next.start, next.more); }
  if (got.fault) { say(got.fault); return; }
  shown = shown.then(() => complete() || put(got, false)).then(() => answered(start));
}
function settle() {
  const asked = last;
  again = null; // what follows says more
  if (stream) stream.close();
  const stop = () => { say("stopping"); stopWork(data.tab); };
  say("simulating all flights", 0, stop);
  stream = new EventSource("/settled?" + query({ tab: data.tab, on: data.page }));
  const end = (words) => { stream.close(); say(words); };
  stream.addEventListener("progress", (e) => { const d = JSON.parse(e.data); say(d.what, d.share, stop); });
  stream.addEventListener("done", (e) => {
    const got = JSON.parse(e.data);
    stream.close();
    shown = shown.then(() => put(got, true)).then(() => {
      if (last !== asked) return; // moved again while this was being shown: it is not the whole of it
      reopen(); full(true); say("");
    });
  });
  stream.addEventListener("fault", (e) => end(JSON.parse(e.data).words));
  stream.addEventListener("superseded", () => { // by a question still on its way, or by a fold opened
    end("");
    if (last === asked) rest = setTimeout(settle, RESTED_MS);
  });
  stream.addEventListener("stopped", () => {
    end("Stopped; only some of the flights are shown. ");
    const on = document.createElement("button");
    on.type = "button"; on.textContent = "simulate all of them"; on.addEventListener("click", settle);
    $("working").append(on);
  });
  stream.onerror = () => end("");
}
function moved(input, controls) {
  mark(input);
  if (stream) stream.close();
  clearTimeout(rest);
  full(false);
  const now = performance.now(), dragged = now - last < DRAGGED_MS;
  last = now;
  clearTimeout(pause);
  move(now, { ...(controls && { controls: 1 }), ...(dragged && { few: 1 }) });
  if (dragged) pause = setTimeout(() => move(performance.now(), {}), DRAGGED_MS);
  const q = query();
  history[resting ? "pushState" : "replaceState"](null, "", location.pathname + (q ? "?" + q : ""));
  resting = false;
  for (const a of document.querySelectorAll("a[data-keep]")) a.href = a.dataset.keep + (q ? "?" + q : "");
  rest = setTimeout(() => { resting = true; settle(); if (data.page === "flight") fly(); }, RESTED_MS);
}
addEventListener("popstate", () => { if (!location.hash) location.reload(); }); // back: one step of what is tried
if (form) {
  if (narrow.matches) form.closest("details").open = Object.keys(settings()).length > 0;
  form.addEventListener("input", (e) => { if (e.target.type === "range") moved(e.target, false); });
  form.addEventListener("change", (e) => { if (e.target.tagName === "SELECT") moved(e.target, true); });
  form.addEventListener("submit", (e) => e.preventDefault());
  document.addEventListener("toggle", (e) => {
    if (e.target.matches("details.stand[open]") && page.dataset.full === "no") move(performance.now(), {});
  }, true);
  if (page && page.dataset.full === "no") settle();
  if (data.page === "ledger") fetch("/height?" + query()).then((r) => (r.ok ? r.json() : null)).then(follow, () => null);
}
