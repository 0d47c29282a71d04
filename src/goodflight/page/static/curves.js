// Curves: the height in the margin of the ledger, and the flight page with all it shows.
import { $, data, ink } from "./common.js";
import * as charts from "./charts.js";
import { progress, stopWork } from "./progress.js";
import { query } from "./what_if.js";

let small = null;
export function height(curve) {
  const at = $("height");
  if (!at || !curve || !window.uPlot) return;
  const now = curve.now, old = curve.planned;
  const joined = old ? uPlot.join([[now.time_s, now.height], [old.time_s, old.height]]) : [now.time_s, now.height, now.time_s.map(() => null)];
  if (small) { small.setData(joined); return; }
  small = new uPlot({
    width: at.clientWidth || 330, height: 116, legend: { show: false }, cursor: { show: false }, scales: { x: { time: false } },
    axes: [charts.axis({ size: 26, values: charts.seconds }), charts.axis({ size: 52, values: (_u, v) => v.map((n, i) => (i === v.length - 1 ? `${n} ${now.unit}` : n)) })],
    series: [{}, { stroke: () => ink("ink"), width: 1.8, spanGaps: true, points: { show: false } }, { stroke: () => ink("tried"), width: 1.4, dash: [5, 3], spanGaps: true, points: { show: false } }],
  }, joined, at);
  charts.keepInk(() => small.redraw(false));
  new ResizeObserver(() => { if (!matchMedia("print").matches && at.clientWidth && at.clientWidth !== small.width) small.setSize({ width: at.clientWidth, height: small.height }); }).observe(at);
}
// What is tried, at once: the ledger's height, or every curve of the flight page with its figures.
export function follow(curve) {
  if (!curve) return;
  if (!curve.flight) { height(curve); return; }
  const here = tried();
  if (flyer && here !== flying) { flyer.close(); flyer = null; say("The bands are simulated again when you stop moving."); }
  for (const [id, html] of Object.entries(curve.parts)) { const el = $(id); if (el) el.innerHTML = html; }
  stale(here !== flown);
  charts.show({ tried: here !== flown ? curve.flight : null });
}
const tried = () => { const q = new URLSearchParams(query()); q.delete("number"); q.delete("order"); return q.toString(); };
function stale(on) {
  for (const p of document.querySelectorAll(".follows")) {
    p.classList.toggle("old-flights", on); p.querySelector(".stale").hidden = !on;
  }
}
let flyer = null, flying = "", flown = "", chosen = 0;
const say = (what, share = null, stop = null) => progress($("flying"), what, share, stop);
// A map asked for before the flight was put away or changed still marks the one of then: `marked`.
function part(got, marked) {
  if (got.bands) {
    charts.draw(got.bands, got.planned);
    $("flights").textContent = got.bands.flights; $("times").innerHTML = got.times;
    $("curves").dataset.drawn = "yes";
  }
  for (const id of ["field", "delays"]) if (got[id]) {
    const box = $(id + "_box");
    $(id).innerHTML = got[id]; box.classList.remove("old-flights"); box.querySelector(".stale").hidden = true;
  }
  if (got.field && marked !== chosen) { unmark(); if (chosen) one(chosen); }
}
function unmark() { for (const mark of document.querySelectorAll("#field .chosen,#field .strong")) mark.remove(); }
// Fly bands, map and delays of what is tried; each is shown as soon as it is there.
export function fly() {
  if (!$("curves")) return;
  if (flyer) flyer.close();
  const asked = tried(), tab = data.tab + "-flown", marked = chosen;
  flying = asked;
  flyer = new EventSource("/flown?" + query({ tab, ...(chosen ? { number: chosen } : {}) }));
  const mine = flyer, end = (words) => { mine.close(); if (mine === flyer) { flyer = null; say(words); } };
  const stop = () => { say("stopping"); stopWork(tab); };
  say("simulating", 0, stop);
  mine.addEventListener("progress", (e) => { const d = JSON.parse(e.data); if (mine === flyer) say(d.what, d.share, stop); });
  mine.addEventListener("part", (e) => { flown = asked; part(JSON.parse(e.data), marked); });
  mine.addEventListener("done", (e) => { part(JSON.parse(e.data), marked); end(""); });
  mine.addEventListener("fault", (e) => end(JSON.parse(e.data).words));
  mine.addEventListener("stopped", () => { end("Stopped. What is shown is kept."); again(); });
  mine.addEventListener("superseded", () => end(""));
  mine.onerror = () => end("The server did not answer.");
  if (chosen) one(chosen);
}
function again() {
  const button = document.createElement("button");
  button.type = "button"; button.textContent = "resume"; button.addEventListener("click", fly);
  $("flying").append(" ", button);
}
// One flight of the ledger's sample.
let asking = null;
async function one(number) {
  if (asking) asking.abort();
  asking = new AbortController();
  const wrong = $("wrong_number"), box = $("one_flight");
  try {
    const answer = await fetch("/one-flight?" + query({ number }), { signal: asking.signal });
    const got = await answer.json();
    wrong.textContent = got.fault || "";
    if (got.fault) return;
    chosen = got.number; $("number").value = chosen; $("no_number").hidden = false;
    box.innerHTML = got.words; box.hidden = false;
    if (got.field) $("field").innerHTML = got.field;
    charts.show({ flight: got.line, number: chosen });
    address();
  } catch (error) { if (error.name !== "AbortError") wrong.textContent = "The server did not answer."; }
}
function address() {
  const q = new URLSearchParams(query());
  if (chosen) q.set("number", chosen); else q.delete("number");
  history.replaceState(null, "", location.pathname + (q.size ? "?" + q : ""));
}
function putAway() {
  if (asking) asking.abort();
  chosen = 0; $("number").value = ""; $("no_number").hidden = true; $("one_flight").hidden = true; $("wrong_number").textContent = "";
  unmark();
  charts.show({ flight: null, number: 0 }); address(); $("number").focus();
}
if (data.page === "flight" && $("curves")) {
  $("fly_one").addEventListener("submit", (e) => { e.preventDefault(); one($("number").value); });
  $("number").addEventListener("change", (e) => { if (e.target.value) one(e.target.value); });
  $("no_number").addEventListener("click", putAway);
  for (const end of document.querySelectorAll("[name=ends]")) end.addEventListener("change", () => charts.reach(end.value));
  charts.onPick((number) => one(number));
  chosen = Number($("number").value);
  addEventListener("load", fly);
}
